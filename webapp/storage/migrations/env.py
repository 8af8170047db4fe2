"""Alembic's entry: webapp.storage.migrate gives it a connection inside a transaction."""

from alembic import context

from webapp.storage.models import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,  # SQLite cannot alter most of a table in place
)
context.run_migrations()
