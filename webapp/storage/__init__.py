"""Where things are kept: tables, migrations, photo files."""
