"""What happens to work once it is done: links, due checks, and what comes back. Without Flask."""
