"""Widgets: each a function of its attributes. Values come down, messages go up; no widget names another."""

from drill.tui.widgets.answer_field import AnswerField
from drill.tui.widgets.choices import Choices
from drill.tui.widgets.key_table import KeyTable
from drill.tui.widgets.line_field import LineField
from drill.tui.widgets.neck_view import NeckView
from drill.tui.widgets.page_bar import PageBar
from drill.tui.widgets.spot_picker import SpotPicker, StrengthMap
from drill.tui.widgets.time_bar import TimeBar

__all__ = [
    "AnswerField",
    "Choices",
    "KeyTable",
    "LineField",
    "NeckView",
    "PageBar",
    "SpotPicker",
    "StrengthMap",
    "TimeBar",
]
