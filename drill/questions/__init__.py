"""Questions derived from theory. Pure: values in, cards out.

A family in `families` makes a `card` of facets, values that say what it is about; `catalogue` has all families in the
order of the curriculum, and reads card ids. What wrong answers confuse is in `mixups`, one layer under all families.
"""
