"""One drill without a screen, and the learner kept in step with the record."""
