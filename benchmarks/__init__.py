"""What can be measured again: speed, size, and how often the judgement is right."""
