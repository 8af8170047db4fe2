"""The app and its files, as they go out to phones."""
