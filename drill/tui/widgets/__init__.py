"""Widgets: each a function of its attributes. Values come down, messages go up; no widget names another.

answer_field, line_field   lines to type on
choices, page_bar          a list to choose from; the names of a screen's pages
neck_view, spot_picker     a neck; a map of strengths on it, and one with a spot picked out
key_table, time_bar        keys and their readiness; what is left of a drill
"""
