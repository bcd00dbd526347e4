"""What a learner confuses who gives a wrong answer: one layer under all families, compared by sound.

A family lists the mix-ups that its question invites, the likelier first, and adds what is its own.
"""
