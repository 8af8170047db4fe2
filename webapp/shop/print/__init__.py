"""What the shop prints or keeps as a PDF."""
