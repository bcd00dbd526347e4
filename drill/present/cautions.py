"""What every player should know about playing safely."""

CAUTIONS = (
    "Playing can hurt. Warm up, keep the wrist straight, and let shoulders and jaw hang loose.",
    "Stop at pain, numbness or tingling; if it stays or comes back, see a doctor or physiotherapist.",
    "Stretches are optional. Keep the volume low, most of all on headphones.",
    "A teacher in the room knows better than a program.",
)
