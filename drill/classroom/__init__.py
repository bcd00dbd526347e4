"""A class: the exports of many learners side by side.

sources     where exports lie: folders, archives, bare logs
exports     one export, read; `answers` counts its answers as they stream by
gathering   every student once
habits      what to expect of a student, from the others and from themselves; `unevenness` how far chance reaches
weaknesses  what each is stuck on
view        the whole class; `columns` its tables, `lines` its screen, `page` its page, `words` what they share
"""
