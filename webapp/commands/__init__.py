"""What is run at a prompt: accounts, backup, verify, demo and the sender of mail."""
