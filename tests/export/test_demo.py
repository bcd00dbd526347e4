"""The invented learner: three months, up to yesterday, of the deck as it is, and gone when the program ends."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from shutil import rmtree

import pytest

from drill.decks import load_deck
from drill.practice.demo import DAYS, SETTINGS, SHOWN, demo_answers, demonstration
from drill.progress import Progress
from drill.record import Record
from drill.record.check import examine_fully
from drill.settings import load
from drill.system.environment import Environment
from tests.export.conftest import progress_of, world
from tests.export.make_demo_learner import made_up_answers
from tests.support.asking import judged
from tests.support.worlds import MONDAY_MORNING


@pytest.fixture(scope="module")
def progress(invented: Environment) -> Iterator[Progress]:
    """Where the invented learner stands."""
    with progress_of(invented) as progress:
        yield progress


@pytest.mark.long
def test_three_months_up_to_yesterday_evening(progress: Progress) -> None:
    rows = list(progress.log.attempts())
    local = [datetime.fromtimestamp(row.asked_at / 1000, UTC) + timedelta(hours=1) for row in rows]
    assert local[-1].date().isoformat() == "2026-01-04"  # the day before that Monday morning
    assert (local[-1].date() - local[0].date()).days in range(DAYS - 7, DAYS)
    assert {moment.hour for moment in local} <= {17, 18, 19, 20}
    assert all(row.answered_at < 1000 * MONDAY_MORNING for row in rows)
    assert 40 < len(list(progress.log.drills())) < DAYS
    assert examine_fully(progress.log.path) == len(rows)


def test_a_drill_lasts_from_its_first_question_to_its_last_answer(progress: Progress) -> None:
    rows = defaultdict(list)
    for row in progress.log.attempts():
        rows[row.drill].append(row)
    for drill in progress.log.drills():
        assert drill.started_at == min(row.asked_at for row in rows[drill.id])
        assert drill.ended_at == max(row.answered_at for row in rows[drill.id])


def test_it_fills_every_screen(progress: Progress) -> None:
    assert progress.whole.seen and progress.whole.fading and progress.whole.fluent
    assert len(progress.weeks) >= 12
    assert len(progress.mixups) >= 5
    assert sum(progress.forecast) > 0
    assert progress.weakest.focus


def test_every_key_was_met_and_one_pair_stays_behind(progress: Progress) -> None:
    """The story: in three months all 24 keys, but for the shape of B flat minor and D flat major."""
    ready = {row.key.name: row.measured for row in progress.keys}
    assert len(ready) == 24 and None not in ready.values()
    hardest = sorted(ready, key=lambda name: ready[name] or 0.0)[:2]
    assert set(hardest) == {"Bb minor", "Db major"}
    assert progress.mixups[0].name == "other string"


@pytest.mark.long
def test_a_folder_that_is_gone_before_the_end_is_no_fault(tmp_path: Path) -> None:
    """Temporary folders are swept by others too."""
    with demonstration(world(tmp_path)) as demo:
        rmtree(demo.record_path.parent)
    assert not demo.record_path.parent.exists()


@pytest.mark.long
def test_the_record_is_the_same_every_time_and_gone_afterwards(tmp_path: Path) -> None:
    seen = []
    for _ in range(2):
        with demonstration(world(tmp_path)) as shown:
            with Record.open(shown.record_path, shown.now) as record:
                seen.append(list(record.attempts()))
            assert shown.record_path != world(tmp_path).record_path
            assert load(shown.config_path) == SETTINGS
        assert not shown.record_path.parent.exists()
    assert seen[0] == seen[1]
    assert not world(tmp_path).record_path.exists()


@pytest.mark.long
def test_it_is_gone_after_a_mistake_too(tmp_path: Path) -> None:
    with pytest.raises(RuntimeError), demonstration(world(tmp_path)) as shown:
        raise RuntimeError
    assert not shown.record_path.parent.exists()


def test_the_answers_are_of_cards_there_are() -> None:
    deck = load_deck(SETTINGS.deck, SETTINGS.neck)
    answers = list(demo_answers())
    assert {answer.card for answer in answers} <= deck.entries.keys()
    assert all(answer.thinking_ms <= answer.took_ms for answer in answers)


@pytest.mark.long
def test_the_file_can_be_made_again(tmp_path: Path) -> None:
    made = list(made_up_answers(world(tmp_path), days=7))
    assert {answer.drill for answer in made} >= {1}
    deck = load_deck(SETTINGS.deck, SETTINGS.neck)
    asked = [answer for answer in made if answer.given not in ("", SHOWN)]
    right = [judged(deck.card(answer.card), answer.given).right for answer in asked]
    assert {True, False} == set(right)


@pytest.mark.long
def test_the_environment_is_the_learners_otherwise(tmp_path: Path) -> None:
    given: Environment = world(tmp_path)
    with demonstration(given) as shown:
        assert (shown.now, shown.stdout, shown.rng) == (given.now, given.stdout, given.rng)
