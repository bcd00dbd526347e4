"""Widgets: each shows its attributes and posts messages; none knows the screen it is on.

Only the answer field calls its screen directly: of keys that arrive in one burst, each must take effect before the next
is read, and a message would come too late.
"""
