"""Widgets: each shows its attributes and posts messages; none knows the screen it is on.

Only the answer field calls its screen directly: of keys that arrive in one burst, each must take effect before the next
is read, and a message would come too late.

answer_field, line_field   lines to type on
choices, page_bar          a list to choose from; the names of a screen's pages
neck_view, spot_picker     a neck; a map of strengths on it, and one with a spot picked out
key_table, time_bar        keys and their readiness; what is left of a drill
verdict_view               a verdict in words
key_footer                 the keys that work now, none of them cut
"""
