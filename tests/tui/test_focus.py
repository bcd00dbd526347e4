"""Focus: what is typed finds its line, whatever it is called; few cards are offered wider, also from other decks."""

from __future__ import annotations

import pytest

from drill.decks import Focus, load_deck
from drill.practice.demo import fill
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.keys import parse_key
from drill.tui import FretsureApp
from tests.support.screens import begin, drilling, press, reads, sees, shown, type_in, until
from tests.tui.conftest import MakeApp

SIZES = [(40, 12), (80, 24), (120, 40)]
TWO_SHAPES = load_deck("two-shapes", Settings().neck)


def where(app: FretsureApp) -> str:
    return getattr(app.screen, "where", "")


@pytest.mark.long
@pytest.mark.parametrize(
    ("size", "typed"),
    [*((size, "e flat minor") for size in SIZES), *(((80, 24), typed) for typed in ("ebm", "Eb minor", "d#m"))],
)
async def test_a_key_is_found_by_any_of_its_names_and_its_few_cards_are_offered_wider(
    size: tuple[int, int], typed: str, make_app: MakeApp
) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "To begin with")
        await press(pilot, *("space" if character == " " else character for character in typed))
        await until(pilot, lambda: "4 cards" in shown(app))
        await press(pilot, "enter")
        await reads(pilot, "This focus has only 4 cards")
        await press(pilot, "down", "enter")
        await begin(pilot)
        assert len(drilling(app).session.deck.entries) >= 8


@pytest.mark.long
async def test_a_key_and_a_string_are_typed_in_one_line(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "To begin with")
        for word in ("Ebm", "A", "string"):
            await press(pilot, *word, "space")
        await sees(pilot, "E♭ minor · string 5 (A): 1 card")
        await press(pilot, "enter")
        await reads(pilot, "This focus has only 1 card, so it comes up again and again.")
        await press(pilot, "home", "enter")
        await begin(pilot)
        wanted = Focus(strings=(5,), keys=(parse_key("D#m"),))
        assert drilling(app).session.deck.entries == TWO_SHAPES.focused(wanted).entries


async def test_a_key_and_a_shape_are_typed_in_one_line_and_a_shape_that_is_none_is_not_found(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "To begin with")
        await type_in(pilot, "Ebm A-string shape")
        await sees(pilot, "E♭ minor · A-string shape: 1 card")
        await press(pilot, "escape")
        await type_in(pilot, "Ebm B-string shape")
        await reads(pilot, "There is no shape “string-2”.")
        await press(pilot, "escape")
        await type_in(pilot, "bottom")
        await reads(pilot, "“bottom” could be string 1 (high E) or string 6 (low E)")
        await type_in(pilot, " E")
        await reads(pilot, "“bottom E” could be string 1 (high E) or string 6 (low E).")


@pytest.mark.long
async def test_several_are_selected_counted_and_dropped_again(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "To begin with")
        for typed in ("am", "string"):
            await press(pilot, *typed)
            await until(pilot, lambda: "To begin with" not in shown(app))
            await press(pilot, "tab")
            await sees(pilot, "To begin with")
        selected = Focus(strings=(6,), keys=(parse_key("Am"),))
        await sees(pilot, f"A minor, string 6 (low E): {TWO_SHAPES.count(selected)} card")
        await press(pilot, "escape")
        await sees(pilot, "Enter drills it.")
        await press(pilot, "escape")
        await sees(pilot, "t Today")


async def test_cards_of_other_decks_are_found_and_drilled(make_app: MakeApp) -> None:
    app = make_app({"deck": "naturals"})
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "To begin with")
        await press(pilot, *"ebm")
        await sees(pilot, "E♭ minor, from the deck “")
        await press(pilot, "enter")
        await begin(pilot)
        assert drilling(app).session.deck.id != "naturals"


async def test_the_word_that_was_meant_is_offered_while_another_is_typed(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "To begin with")
        await press(pilot, *"nots")
        await sees(pilot, "Did you mean “notes”?")
        await press(pilot, "backspace", *"es")
        await sees(pilot, "Note at a fret · Fret of a note")


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_what_to_type_instead_is_never_cut_off(size: tuple[int, int], make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "To begin with")
        await type_in(pilot, "H Moll")
        await sees(pilot, "names”.")


async def test_many_keys_are_named_together_beside_their_string_and_the_number_of_cards(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "To begin with")
        for typed, told in (
            ("minor keys on the a string", "minor keys · string 5 (A): 16 cards"),
            ("low E in flat keys", "flat keys · string 6 (low E): "),
        ):
            await type_in(pilot, typed)
            await reads(pilot, told)
            await press(pilot, "escape")


@pytest.mark.parametrize("typed", ["slow", "weak strings"])
async def test_where_nothing_is_weak_yet_the_beginning_is_offered(typed: str, make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "To begin with")
        await type_in(pilot, typed)
        await until(pilot, lambda: "To begin with: " in shown(app) and "Weakest" not in shown(app))
        await reads(pilot, "Enter drills it. Start here.")


async def test_what_is_weak_is_found_by_what_it_is_called(make_app: MakeApp, fake_environment: Environment) -> None:
    fill(fake_environment)
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "My weakest")
        for typed, title in (
            ("weak strings", "Weakest string: "),
            ("weakest shape", "Weakest shape: "),
            ("what I mix up", "Mixed up most: "),
        ):
            await type_in(pilot, typed)
            await reads(pilot, title)
            assert "My weakest" not in shown(app)
            await reads(pilot, "Enter drills it.")
            await press(pilot, "escape")


@pytest.mark.long
async def test_what_is_called_nothing_is_told(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "To begin with")
        await press(pilot, *"qqq")
        screen = await sees(pilot, "“qqq” is neither a key nor a string, a shape or a kind of question.")
        assert "Esc empties the field." in screen
        assert "Enter" not in screen, "it drills nothing"
        await press(pilot, "enter", "tab")
        assert where(app) == "focus"


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES)
async def test_a_string_is_three_keys_from_home(size: tuple[int, int], make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "t Today")
        await press(pilot, "f")
        await until(pilot, lambda: where(app) == "focus")
        await press(pilot, "5", "enter")
        await begin(pilot)
        assert drilling(app).session.deck.entries == TWO_SHAPES.focused(Focus(strings=(5,))).entries


@pytest.mark.long
async def test_back_from_the_offer_leads_to_where_it_came_from(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "To begin with")
        await press(pilot, *"ebm", "enter")
        await until(pilot, lambda: where(app) == "widen")
        await press(pilot, "escape")
        await until(pilot, lambda: where(app) == "focus")


@pytest.mark.long
async def test_a_command_with_a_narrow_focus_begins_with_the_offer(make_app: MakeApp) -> None:
    app = make_app(begin=True, focus=Focus(strings=(5,), keys=(parse_key("Ebm"),)))
    async with app.run_test(size=(80, 24)) as pilot:
        await sees(pilot, "with string 6 (low E), F♯ major, B♭ minor and G♯ minor")
        await press(pilot, "down", "down", "enter")
        await begin(pilot)
        await press(pilot, "escape")
        await until(pilot, lambda: where(app) == "after")
        await press(pilot, "a")  # another drill of the same asks nothing again
        await begin(pilot)
        assert len(drilling(app).session.deck.entries) == 8


TOLD = "E♭ minor is asked as D♯ minor: the same frets."


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES)
async def test_a_key_that_is_asked_by_its_other_name_is_told_before_it_is_drilled(
    size: tuple[int, int], make_app: MakeApp
) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "To begin with")
        await press(pilot, *"ebm")
        await reads(pilot, TOLD)
        await press(pilot, "enter")
        await reads(pilot, "This focus has only 4 cards")
        await reads(pilot, TOLD)


@pytest.mark.long
async def test_look_up_tells_by_which_name_its_drill_asks(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 40)) as pilot:
        await press(pilot, "escape", "l")
        await sees(pilot, "Type a key, a scale or the chords of a loop")
        await press(pilot, *"Ebm", "enter")
        await reads(pilot, f"F3 drills it. {TOLD}")
