"""What a learner practises, without a screen.

`session` is one drill: questions, verdicts, times, summary. `round` is a round of keys, called over a click. What is
heard of them is in `played_drill` and `round_heard`, both over the ears in `hearing`. `learner_store` keeps what is
known of the learner in sync with the record.
"""
