"""One drill without a screen: questions, verdicts, times, summary; keeps the learner in sync with the record.

session         one drill, question by question
request         the drill a learner asks for
stopwatch       the time that is left, and thinking times
pace            how many questions the learner answers in a time
growth          how many facts come in time, now and a week ago
summary         a drill summed up
attempts        an answer as a row of the log, and as the memory learns from it
learner_store   the learner in sync with the record
replay          derives the learner from the log again
reading         how long reading a kind of question takes
played          one question answered on the guitar
played_drill    a drill answered on the guitar: a session with ears
key_press       how long a key press takes
demo            sample data
"""
