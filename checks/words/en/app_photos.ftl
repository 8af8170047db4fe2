### Photos of a check: fetched right after a first visit.

app-photo-unreadable = This browser cannot read that picture; it may be a HEIC file, or damaged. Nothing is lost. Use “Take a photo”, or on an iPhone set Camera, Formats to Most Compatible and take it again.
app-photo = Photo: { $name }
app-photo-open = Open photo: { $name }
app-photo-whole = The whole
app-photo-take = Take a photo
app-photo-gallery = From the gallery
app-photo-done = Done
app-photo-close = Close
app-photo-working = Making it smaller…
app-photo-remove = Take it off
app-photo-sure = Take this photo off this phone?
app-photo-sure-sent = Take this photo off this phone? The copy that was sent stays where it is.
