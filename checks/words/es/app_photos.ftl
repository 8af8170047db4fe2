### Photos of a check: fetched right after a first visit.

app-photo-unreadable = Este navegador no puede leer esa foto: puede ser un archivo HEIC, o estar dañada. No se perdió nada. Use “Tomar una foto”. O en un iPhone ponga Cámara, Formatos en Más compatible y tómela otra vez.
app-photo = Foto: { $name }
app-photo-open = Abrir la foto: { $name }
app-photo-whole = Entera
app-photo-take = Tomar una foto
app-photo-gallery = De la galería
app-photo-done = Listo
app-photo-close = Cerrar
app-photo-working = Haciéndola más chica…
app-photo-remove = Quitarla
app-photo-sure = ¿Quitar esta foto de este teléfono?
app-photo-sure-sent = ¿Quitar esta foto de este teléfono? La copia que se mandó queda donde está.
