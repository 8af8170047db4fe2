// The rulebook a kept check was judged by.

/** With the words the check was shown in; undefined where it is not here. */
/** @type {(app: Books, kept: KeptBy) => Promise<OpenBook | undefined>} */
export async function bookOf(app, kept) {
  const ours = [app.book, app.figuresBook].find((one) => one?.hash === kept.record.body.rulebook);
  if (ours && (!kept.words || ours.said.hash === kept.words)) return ours;
  const part = await import("./kept_books.js").catch(() => null);
  return part ? part.olderBook(app, kept, ours) : ours;
}
