"""A class: the exports of many learners side by side."""
