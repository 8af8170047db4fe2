// A date with an alarm for the phone's own calendar (iCalendar, RFC 5545).

import { LANGUAGE } from "../data/words.js";
import { h } from "./h.js";

/** @param {Date} date */
const utc = (date) => date.toISOString().replace(/[-:]|\.\d+/g, "");
/** @param {string} text */
const plain = (text) => text.replace(/[\\;,]/g, "\\$&").replace(/\r?\n/g, "\\n");

// A line has at most 75 octets and goes on behind a break and a blank (section 3.1). Eighteen signs
// of four octets each fit, whatever they are.
/** @param {string} line */
const folded = (line) => line.replace(/.{18}(?=.)/gu, "$&\r\n ");

/** Events, each a quarter of an hour long with an alarm at its start. `start` is a Date. */
/** @param {CalendarEvent | CalendarEvent[]} events @param {Date} now */
export function calendarText(events, now = new Date()) {
  return [
    "BEGIN:VCALENDAR", "VERSION:2.0", `PRODID:-//Twentymile//${LANGUAGE.toUpperCase()}`,
    ...[events].flat().flatMap(({ start, title, text, id }) => [
      "BEGIN:VEVENT", `UID:${id}@twentymile`, `DTSTAMP:${utc(now)}`, `DTSTART:${utc(start)}`, "DURATION:PT15M",
      `SUMMARY:${plain(title)}`, `DESCRIPTION:${plain(text)}`,
      "BEGIN:VALARM", "ACTION:DISPLAY", "TRIGGER:PT0S", `DESCRIPTION:${plain(title)}`, "END:VALARM",
      "END:VEVENT",
    ]), "END:VCALENDAR", "",
  ].map(folded).join("\r\n");
}

/** A file of one event, or of several. */
/** @param {CalendarEvent | CalendarEvent[]} events */
export function calendarFile(events) {
  const address = URL.createObjectURL(new Blob([calendarText(events)], { type: "text/calendar" }));
  h("a", { href: address, download: "trailer-check.ics" }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
