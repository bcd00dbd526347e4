"""The learner's key press is measured, kept in the log, and taken off thinking times."""

from __future__ import annotations

import pytest

from drill.memory import Learner, dump
from drill.practice.key_press import record_key_presses
from drill.practice.learner_store import LearnerStore
from drill.practice.replay import observations
from drill.record import Record
from drill.system.environment import Environment


def test_measured_presses_move_the_baseline_towards_them(fake_environment: Environment) -> None:
    with Record.open(fake_environment.record_path, fake_environment.now) as record:
        before = Learner().key_press_s
        known = record_key_presses(fake_environment, LearnerStore.of(record), [0.6, 0.62, 0.58, 0.61, 0.6, 0.59, 0.6])
        assert before < known
        assert known == pytest.approx(0.6, abs=0.05)
        assert LearnerStore.of(record).learner.net_thinking(1.6) == pytest.approx(1.6 - known)


def test_presses_are_part_of_the_log_and_survive_the_loss_of_derived_state(fake_environment: Environment) -> None:
    with Record.open(fake_environment.record_path, fake_environment.now) as record:
        known = record_key_presses(fake_environment, LearnerStore.of(record), [0.45, 0.5])
        record.replace_states({})
        replayed = Learner()
        for item, attempt in observations(record.attempts()):
            replayed.observe(item, attempt)
        assert replayed.key_press_s == known
        assert dump(LearnerStore.of(record).learner) == dump(replayed)
        assert [row.kind for row in record.attempts()] == ["shown", "shown"]


def test_in_the_log_one_press_follows_the_other_up_to_now(fake_environment: Environment) -> None:
    with Record.open(fake_environment.record_path, fake_environment.now) as record:
        record_key_presses(fake_environment, LearnerStore.of(record), [0.45, 0.5])
        now_ms = round(1000 * fake_environment.now())
        times = [(row.asked_at - now_ms, row.answered_at - now_ms) for row in record.attempts()]
        assert times == [(-950, -500), (-500, 0)]


def test_a_press_that_took_minutes_says_nothing(fake_environment: Environment) -> None:
    with Record.open(fake_environment.record_path, fake_environment.now) as record:
        assert record_key_presses(fake_environment, LearnerStore.of(record), [240.0, 0.001]) == Learner().key_press_s
