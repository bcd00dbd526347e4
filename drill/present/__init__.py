"""One way to say things, the same in every part of the program.

figures, dates           numbers and moments
tables                   tables with typed cells: as text, as JSON
verdicts, summaries      an answer, a drill
played_words             what is said while an answer is played
today                    what the next drill brings
reasons                  why a card is asked
voice                    notes and shapes as the learner names them
cautions                 how to play safely
neck_drawing             the neck in characters
"""
