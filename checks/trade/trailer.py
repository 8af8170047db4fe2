"""What kind of trailer it is: decides which points of the walk apply."""

from checks.facts import choice, number, yes_no

FACTS = [
    number("axles", "count", 1, 3),
    choice("brakes", "none", "surge", "electric", "hydraulic"),
    choice("hub_size", "bore_25", "bore_27", "bore_32", "bore_35", optional=True),
    choice("width", "under_80", "80_or_more"),
    choice("length", "under_6", "6_to_30", "30_or_more"),
    yes_no("boat"),
    yes_no("tilt"),
    yes_no("ramps"),
    yes_no("enclosed"),
]
