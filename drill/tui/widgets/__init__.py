"""Widgets: each a function of its attributes. Values come down, messages go up; no widget names another.

Only the answer field calls whoever asked, instead of posting a message: of keys that come in one burst each is to be
heeded before the next is looked at.

answer_field, line_field   lines to type on
choices, page_bar          a list to choose from; the names of a screen's pages
neck_view, spot_picker     a neck; a map of strengths on it, and one with a spot picked out
key_table, time_bar        keys and their readiness; what is left of a drill
verdict_view               a verdict in words
"""
