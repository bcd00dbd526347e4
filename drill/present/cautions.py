"""What every player should know about playing safely."""

CAUTIONS = (
    "Playing can hurt. Warm up, keep the wrist straight, and let shoulders and jaw hang loose.",
    "Stop at pain, numbness or tingling; if it stays or comes back, see a doctor or physiotherapist.",
    "Stretches are optional. Keep the volume low, most of all on headphones.",
    "A teacher in the room knows better than a program.",
)
FIRST_CAUTIONS = (
    "Warm up, keep the wrist straight, headphones low.",
    "Stop at pain, numbness or tingling, and see a doctor.",
    "Stretches are optional. A teacher's advice beats ours.",
)
"""The same in a few words, for the first start, under the heading `PLAYING_CAN_HURT`."""
PLAYING_CAN_HURT = "Playing can hurt"
