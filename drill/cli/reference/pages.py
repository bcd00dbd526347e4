"""The pages, each made from what the program goes by: columns, schema, settings, commands of the screens, families."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from drill.cli.reference.layout import columns_lines, entries, entry, prose

EXACT = """
Chances run from 0 to 1, times are in seconds or, where the key ends in _ms, milliseconds; moments are UTC (ISO 8601).
Note names are English and ASCII: Bb, F#. While a part of a long record is still to be read, a sentence on standard
error says so.
"""
READINESS = """
Readiness of a key is the chance that every fact it takes to play in it in both shapes comes right a day after your
latest drill, each within one bar of four beats at your tempo: the relative, the finger on the tonic, and the index fret
of each shape. The time a key press takes is taken off, and what a drill has just brought up does not count as known
tomorrow. A key is ready at 50 %.
"""
NEW_RECORD = ("new_record", "the path of the record while no answer is in it, for it may be mistyped; else null")
CLASS = """
Strengths are those of each export, as of its moment; all else is counted from the answers, up to the last day on which
anybody answered. A student is called stuck on something only if the last six weeks show it clearly, against the class
and against the student's own other answers, and by itself: more than a fifth of the answers wrong, later than the
target, or a mix-up in more than a tenth of the answers where it can happen. Fewer than five students are no class; then
each is held against their own other answers. What several mix up is told with each one's own share. Of several exports
of one student the newest counts. A student who begins anew on another machine has a new identity, and counts twice
until `fretsure restore OLDER.zip --mine` has put both together and a new export is there. What is damaged, or called
like an export and is none, is named and passed over; other files are left alone.
"""
EXPORT = """
The folder is a Tabular Data Package (https://specs.frictionlessdata.io/tabular-data-package/): datapackage.json
says the same as this page. Cells that a spreadsheet could read as formulas begin with an apostrophe. attempts.jsonl is
the exact log, attempts.schema.json its JSON Schema, report.html a report for a teacher. Once you have given your name,
the files bear it and the beginning of your identity; --name changes it. What teachers set with your decks, and how far
you came, stands in datapackage.json under `homework`. --one packs all of it into a new file, which
`class` and `restore` read as it is; --calendar writes one daily event at your usual time. An export overwrites an
earlier one of yours and nothing else: in a folder with other files it goes to a new folder, fretsure-export.
"""
DECK = """
A deck is a TOML file. `fretsure decks check FILE` lists every mistake in it, `fretsure decks add FILE` keeps it
(with --replace in the place of one of the same name that was added before), and `fretsure decks schema` prints this
format as JSON Schema, by which editors complete and check. What is set with it as homework (until, goal, note, by) may
be left out.
"""
SETTINGS = """
Set-up writes them to settings.toml, in ~/.config/fretsure on Linux and in the platform's folder for settings elsewhere;
you may edit it. A mistake in it is reported with its place and what fits.
"""
OWN_KEYS = """
A table [keys] at the end of the settings file gives a command another key, such as: look-up = "f8". A name or a key
that does not fit is reported, with those that do. The names are in brackets below.
"""


def _keys(width: int) -> Iterator[str]:
    from drill.present.glossary import SCREENS
    from drill.tui.commands import everywhere, of_screen

    yield from prose(OWN_KEYS, width)
    for title, commands in (("Everywhere", everywhere()), *((name, of_screen(at)) for at, name in SCREENS.items())):
        yield from ("", title)
        for each in commands:
            yield from entry(f"{each.key_shown}  {each.title} [{each.id}]", each.help, width)


def _json(width: int) -> Iterator[str]:
    from drill.cli.reference.lines import LINES
    from drill.cli.reference.objects import COMMANDS, FACETS

    yield from prose(EXACT, width)
    yield from prose("`today --json` and `focus --json`: a line each, by its `type`.", width)
    for name, (sentence, columns) in LINES.items():
        yield from prose(f"{name}: {sentence}", width)
        yield from columns_lines(columns, width)
    for name, (sentence, columns) in COMMANDS.items():
        yield from prose(f"`{name} --json`: {sentence}", width)
        yield from columns_lines(columns, width)
    yield from prose("The facets of a card:", width)
    yield from entries(FACETS.items(), width)
    yield from prose(
        "`progress --json` and `class --json`: see `fretsure help progress` and `fretsure help class`.", width
    )


def _progress(width: int) -> Iterator[str]:
    from drill.progress.columns import CARD_HISTORY, PROGRESS

    yield from prose(EXACT, width)
    yield from prose(READINESS, width)
    yield from prose("`progress --json`: one object.", width)
    yield from columns_lines(PROGRESS, width)
    yield from prose("`progress --card ID --json`: one object.", width)
    yield from columns_lines(CARD_HISTORY, width)
    yield from prose("Both have besides:", width)
    yield from entries([NEW_RECORD], width)


def _class(width: int) -> Iterator[str]:
    from drill.classroom.columns import CLASS as COLUMNS
    from drill.classroom.columns import TABLES

    yield from prose(CLASS, width)
    yield from prose("`class --json`: one object.", width)
    yield from columns_lines(COLUMNS, width)
    yield from prose("`class --csv DIR`: the same as tables.", width)
    yield from entries(((table.file, table.title) for table in TABLES), width)


def _export(width: int) -> Iterator[str]:
    from drill.export.tables import TABLES

    yield from prose(EXPORT, width)
    for table in TABLES:
        yield from prose(f"{table.file}: {table.title}.", width)
        yield from columns_lines(table.columns, width)


def _deck(width: int) -> Iterator[str]:
    from drill.decks.fields import EXAMPLE
    from drill.decks.schema import DeckModel, PartModel

    yield from prose(DECK, width)
    for title, model in (("The file:", DeckModel), ("Under each [[part]]:", PartModel)):
        yield from prose(title, width)
        for name, field in model.model_fields.items():
            needed = " It is needed." if field.is_required() else ""
            yield from entry(name, f"{field.description}{needed}", width)
    yield from ("", "A whole file:", "", *(f"    {line}".rstrip() for line in EXAMPLE.strip().splitlines()))


def _families(width: int) -> Iterator[str]:
    from drill.present.voice import Voice
    from drill.questions.catalogue import FAMILIES

    for name, family in FAMILIES.items():
        yield from prose(f"{name}  {family.title}", width)
        yield from entry("its idea", Voice().say(family.idea), width)


def _settings(width: int) -> Iterator[str]:
    from drill.settings import fields

    yield from prose(SETTINGS, width)
    for field in fields():
        yield from prose(f"{field.name} = {field.wants}", width)
        yield from entry("what it is", field.sentence, width)


def _words(width: int) -> Iterator[str]:
    from drill.present.glossary import NECK, WORDS

    yield ""
    yield from entries(WORDS, width)
    yield from prose("On the neck:", width)
    yield from entries(NECK, width)


PAGES: Mapping[str, Callable[[int], Iterator[str]]] = {
    "keys": _keys,
    "json": _json,
    "progress": _progress,
    "class": _class,
    "export": _export,
    "deck": _deck,
    "families": _families,
    "settings": _settings,
    "words": _words,
}
"""What makes the page of each topic."""
