"""What phones send and read: records, photos, links, and records on their way to a new phone."""
