"""One drill without a screen: questions, verdicts, times, summary; keeps the learner in sync with the record."""
