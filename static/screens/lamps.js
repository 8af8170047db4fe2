// The lamp test: command after command, what each lamp does; then the likely faults with a look for each.

import { has, say } from "../data/words.js";
import { nextLook, rank, SOUND } from "../engine/lamps.js";
import { setSetting } from "../keep.js";
import { go, redraw } from "../router.js";
import { h, svg } from "../parts/h.js";
import { button, link } from "../parts/page.js";
import { contactsOf, plugFaces } from "../parts/plug.js";
import { choices, framed, lampTable, withWords } from "./road.js";

/** @type {Record<LampSetup, string[]>} */
const SETUP = {
  plug: ["flat4", "blade7", "round7"], lamps: ["bulbs", "leds"], ground: ["frame", "wire"],
    supply: ["spliced", "module", "converter"],
};
// First what makes a lost ground look quite different.
/** @type {Record<LampSetup, string>} */
const ASKED = { supply: "supply", plug: "plug", lamps: "are", ground: "ground" };
const MAYBE = ["left_marker", "right_marker", "plate", "reverse"]; // lamps that not every trailer has
/** @type {Record<string, XY>} */
const PLACES = { // middle of each lamp on the drawing of the rear
  left: [52, 92], right: [308, 92], left_turn: [88, 92], right_turn: [272, 92], plate: [150, 96], reverse: [226, 96],
    left_marker: [14, 62], right_marker: [346, 62],
};
const SHOWN = 4;

/** @type {(app: App) => LampTest} */
const kept = (app) => ({ plug: "flat4", lamps: null, ground: null, supply: null, who: "alone", absent: [], reading: {},
  ...app.settings.lampTest });
/** @param {App} app @param {LampTest} test */
const keep = (app, test) => setSetting(app, "lampTest", test);

/** `#/lamps`, `#/lamps/COMMAND` and `#/lamps/found`. */
/** @param {App} app @param {string | undefined} at */
export const lamps = (app, at) => withWords(async () => {
  /** @type {LampTable} */
  const table = await lampTable();
  const test = kept(app), whole = table.plugs[test.plug];
  const plug = { ...whole, lamps: whole.lamps.filter((lamp) => !test.absent.includes(lamp)) };
  if (at === "found") return found(app, test, table, plug);
  return at && plug.commands.includes(at) ? asking(app, test, table, plug, at) : setup(app, test, whole, plug);
});

/** What may be chosen: a converter makes one lamp of stop and turn, so a plug for two has none. */
/** @param {LampTest} test @param {LampSetup} name */
const offered = ({ plug }, name) =>
  SETUP[name].filter((one) => one !== "converter" || plug !== "round7");

/** Names of the systems that are possible: what is not known leaves all open. */
/** @param {LampTest} test */
function systemsOf(test) {
  /** @param {LampSetup} name */
  function open(name) {
    const all = offered(test, name), chosen = all.filter((one) => one === test[name]);
    return chosen.length ? chosen : all;
  }
  return open("plug").flatMap((p) => open("lamps").flatMap((l) => open("ground")
    .flatMap((g) => open("supply").map((s) => `${p}.${l}.${g}.${s}`))));
}

/** @type {(test: LampTest, plug: LampPlug) => LampAnswer[]} */
const readingOf = (test, plug) => plug.commands.flatMap((command) =>
  Object.entries(test.reading[command] ?? {}).filter(([lamp]) => plug.lamps.includes(lamp))
    .map(/** @returns {LampAnswer} */ ([lamp, answer]) => [command, lamp, answer]));

/** @param {App} app @param {LampTest} test @param {LampPlug} whole @param {LampPlug} plug with the lamps that it has */
function setup(app, test, whole, plug) {
  /** @param {Partial<LampTest>} changes */
  const set = async (changes) => { await keep(app, { ...kept(app), ...changes }); redraw(); };
  const fitted = whole.lamps.filter((lamp) => MAYBE.includes(lamp));
  /** @param {string} lamp */
  const toggle = (lamp) => set({ absent: test.absent.includes(lamp) ? test.absent.filter((one) => one !== lamp)
    : [...test.absent, lamp] });
  /** @param {LampSetup} name */
  const row = (name) => [
    h("h2", {}, say(`road-lamps-${ASKED[name]}`)),
    name === "supply" && h("p", { class: "help" }, say("road-lamps-supply-help")),
    name === "plug" && test.plug === "round7" && h("p", { class: "help" }, say("road-lamps-plug-round7-help")),
    choices(name === "plug" ? SETUP.plug : [...offered(test, name), "unsure"],
      offered(test, name).find((one) => one === test[name]) ?? (name === "plug" ? "flat4" : "unsure"),
      (id) => (id === "unsure" ? say("road-not-sure") : say(`road-lamps-${ASKED[name]}-${id}`)),
      (id) => set({ [name]: id === "unsure" ? null : id })),
  ];
  const begun = readingOf(test, plug).length > 0;
  const setups = /** @type {LampSetup[]} */ (Object.keys(ASKED));
  return framed(say("road-lamps-title"), [h("p", {}, say("road-lamps-lead")), setups.map(row),
    h("h2", {}, say("road-lamps-has")),
    choices(fitted, new Set(plug.lamps), (lamp) => lampName(test.plug, lamp),
      toggle),
    h("h2", {}, say("road-lamps-who")),
    choices(["alone", "helper"], test.who, (who) => say(`road-lamps-who-${who}`), (who) => set({ who }))],
    [begun && button(say("road-lamps-go-on"), () => go(`#/lamps/${openIn(test, plug)}`), "answer main"),
      button(say(begun ? "road-lamps-anew" : "road-lamps-begin"), async () => {
        await keep(app, { ...test, reading: {} });
        go("#/lamps/tail");
      }, begun ? "answer quietly" : "answer main")]);
}

/** The first step with a lamp not read yet; past the last one what was found. */
/** @param {LampTest} test @param {LampPlug} of */
const openIn = ({ reading }, { commands, lamps: all }) =>
  commands.find((command) => all.some((lamp) => !reading[command]?.[lamp])) ?? "found";

/** Whether a sound trailer lights this lamp under this command. */
/** @param {LampTable} table @param {string} plug @param {string} command @param {string} lamp */
function lit(table, plug, command, lamp) {
  const row = table.rows[table.systems[`${plug}.bulbs.frame.module`].sound],
    { commands, lamps: all } = table.plugs[plug]; // all lamps of the plug
  return row[commands.indexOf(command) * all.length + all.indexOf(lamp)] === "g";
}

/** @param {App} app @param {LampTest} test @param {LampTable} table @param {LampPlug} plug @param {string} command */
function asking(app, test, table, plug, command) {
  const number = plug.commands.indexOf(command), read = test.reading[command] ?? {};
  /** @param {string} lamp */
  const on = (lamp) => lit(table, test.plug, command, lamp);
  /** @param {Record<string, string>} answers */
  const set = async (answers) => {
    const now = kept(app);
    await keep(app, { ...now, reading: { ...now.reading, [command]: { ...now.reading[command], ...answers } } });
    redraw();
  };
  const rows = plug.lamps.map((lamp) => h("section", { class: "lamp" }, h("h2", {}, lampName(test.plug, lamp)),
    choices(on(lamp) ? ["good", "dim", "dark", "bright"] : ["good", "dim", "bright"], read[lamp],
      (id) => say(`road-lamps-${on(lamp) ? "lit" : "off"}-${id}`), (id) => set({ [lamp]: id }))));
  const rest = Object.fromEntries(plug.lamps.filter((lamp) => !read[lamp]).map((lamp) => [lamp, "good"]));
  const next = plug.commands[number + 1] ?? "found";
  const on2 = () => go(`#/lamps/${next}`), begun = Object.keys(read).length > 0;
  const allGood = async () => { await set(rest); on2(); };
  const wanted = readingOf(test, plug).filter(([one, lamp]) => lit(table, test.plug, one, lamp));
  const dark = wanted.length >= ENOUGH && wanted.every(([, , answer]) => answer === "dark")
    && Object.keys(rest).some(on) && [h("p", { class: "note" }, say("road-lamps-all-dark.help")),
    button(say("road-lamps-all-dark"), async () => {
      await set(Object.fromEntries(Object.keys(rest).map((lamp) => [lamp, on(lamp) ? "dark" : "good"])));
      on2();
    }, "answer main")];
  const body = [
    h("p", { class: "hint" }, say("road-lamps-step", { number: number + 1, all: plug.commands.length })),
    h("p", { class: "note" }, say(test.who === "helper" ? "road-lamps-by-helper"
      : `road-lamps-alone-${handOf(command)}`)),
    rear(plug.lamps, on),
    !begun && dark, !begun && button(say("road-lamps-as-drawn"), allGood, dark ? "answer quietly" : "answer main"),
    rows,
  ];
  const foot = [
    begun && dark,
    begun && Object.keys(rest).length > 0 && button(say("road-lamps-all-good"), allGood, "answer main"),
    button(say("road-lamps-next"), on2, "answer quietly"),
  ];
  return framed(say(`road-lamps-do-${command}`), body, foot, "road lamps", number
    ? `#/lamps/${plug.commands[number - 1]}` : "#/lamps");
}

const ENOUGH = 3; // lamps dark, and none lit: the rest may be looked at as one

/** What one person alone needs for a command: something that holds the pedal or the lever, or nothing. */
/** @param {string} command */
const handOf = (command) => (command.includes("brake") ? "brake" : command === "reverse" ? "reverse"
  : command === "tail" ? "switch" : "turn");

/** @param {string[]} all @param {(lamp: string) => boolean} on */
function rear(all, on) {
  return svg("svg", { class: "rear", viewBox: "0 0 360 130", role: "img", "aria-label": say("road-lamps-drawing") },
    svg("path", { class: "body", d: "M30 20H330V112H30ZM30 74H330M60 112v14h34v-14M266 112v14h34v-14" }),
    all.map((lamp) => {
      const [x, y] = PLACES[lamp], [w, height] = lamp === "left" || lamp === "right" ? [30, 24] : [20, 14];
      const own = lamp.endsWith("_turn") ? "lampbox amber" : "lampbox";
      return svg("rect", { class: on(lamp) ? `${own} on` : own, x: x - w / 2, y: y - height / 2, width: w,
        height, rx: 4 });
    }));
}

// ---- what it may be ----

/** @param {App} app @param {LampTest} test @param {LampTable} table @param {LampPlug} plug */
function found(app, test, table, plug) {
  const reading = readingOf(test, plug), systems = systemsOf(test);
  const [onward, home] = app.settings.run?.ended === null ? ["app-run-on", "#/run"] : ["app-to-front", "#/"];
  const foot = h("div", { class: "row" }, button(say("road-lamps-again"), () => go("#/lamps"), "answer quietly"),
    link(say(onward), home, "answer main"));
  const title = say("road-lamps-result"), to = `#/lamps/${plug.commands.at(-1)}`;
  if (!reading.length) return framed(title, h("p", { class: "note" }, say("road-lamps-nothing")), foot, "road lamps",
    to);
  const fitted = rank(reading, systems, table).map((entry) => ({ ...entry, faults: entry.faults.filter((name) =>
    !test.absent.some((lamp) => name.endsWith(`:${lamp}`))) })).filter(({ faults }) => faults.length);
  const bad = reading.filter(([, , answer]) => answer !== "good");
  const odd = bad.length > 0 && fitted[0].faults[0] === SOUND; // no steady fault does this
  const list = (odd ? suspects(fitted, rank(reading.filter((one) => !bad.includes(one)), systems, table)) : fitted)
    .filter(({ share }) => share >= 0.01).slice(0, SHOWN);
  const unread = nextLook(reading, systems, table, plug.lamps);
  return framed(title, [
    bad.length > 0 && h("p", { class: "note" }, h("strong", {}, say("road-lamps-law"))),
    odd && again(test.plug, bad),
    list.map((entry) => card(entry, test.plug, { well: !bad.length, odd })),
    unread && !odd && list[0].share < 0.9 && h("p", { class: "note" },
      say("road-lamps-more", { lamp: lampName(test.plug, unread[1]),
        command: say(`road-lamps-do-${unread[0]}`) }), " ",
      link(say("road-lamps-open"), `#/lamps/${unread[0]}`)),
    test.plug === "blade7" && h("p", { class: "note" }, say("road-lamps-aux")),
    h("p", { class: "hint" }, say("road-lamps-judgement")),
  ], foot, "road lamps", to);
}

/** @typedef {{ faults: string[], share: number }} Ranked */
/** Faults that make what reads wrong likelier than it is on a sound trailer, by their shares of one another. */
/** @param {Ranked[]} all @param {Ranked[]} without as ranked without what reads wrong */
function suspects(all, without) {
  const before = new Map(without.map(({ faults, share }) => [faults.join(), share]));
  /** @param {Ranked} of */
  const gain = ({ faults, share }) => share / (before.get(faults.join()) ?? Infinity);
  const least = 1.2 * gain(all[0]), list = all.slice(1).filter((one) => gain(one) > least);
  const total = list.reduce((sum, { share }) => sum + share, 0);
  return list.map((one) => ({ ...one, share: one.share / total }));
}

/** What reads wrong that no steady fault explains, to be read once more before anything is taken apart. */
/** @param {string} plug @param {LampAnswer[]} bad */
const again = (plug, bad) => h("section", { class: "card look" }, h("h2", {}, say("road-lamps-misread")),
  h("ul", {}, bad.map(([command, lamp]) => h("li", {}, say("road-lamps-odd", { lamp: lampName(plug, lamp),
    command: say(`road-lamps-do-${command}`) }), " ", link(say("road-lamps-open"), `#/lamps/${command}`)))),
  h("p", {}, say("road-lamps-misread-look")), h("p", { class: "hint" }, say("road-lamps-if-again")));

/** Of what explains no steady reading no share is told: all of it is a guess. */
/** @param {Ranked} of @param {string} plug @param {{ well: boolean, odd: boolean }} seen */
function card({ faults, share }, plug, { well, odd }) {
  const marked = [...new Set(faults.flatMap((name) => name.split("+")
    .flatMap((one) => { const [kind, part] = one.split(":"); return contactsOf(plug, kind, part); })))];
  return h("section", { class: "card look" },
    !odd && h("p", { class: "hint" }, say("road-lamps-share", { percent: Math.max(1, Math.round(share * 100)) })),
    faults.length > 1 && h("p", {}, say("road-lamps-one-of")),
    faults.map((name) => cause(name, plug, well)), marked.length > 0 && plugFaces(plug, marked));
}

// What a lamp, a wire or two of them are called; the round plug has colours and lamps of its own.
/** @param {string} plug @param {string} lamp */
const lampName = (plug, lamp) => ofPlug(`road-lamps-lamp-${lamp}`, plug);
/** @param {string} id @param {string} plug */
const ofPlug = (id, plug) => say(has(`${id}-${plug}`) ? `${id}-${plug}` : id);
/** @param {string} part @param {string} plug */
function partName(part, plug) {
  const [a, b] = part.split("_");
  return b && has(`road-colour-${a}`) && has(`road-colour-${b}`)
    ? say("road-part-two", { a: say(`road-colour-${a}`), b: say(`road-colour-${b}`) })
    : ofPlug(`road-part-${part}`, plug);
}

/** @param {string} name @param {string} plug @param {boolean} well */
const cause = (name, plug, well) => h("div", { class: "cause" }, name === SOUND
  ? [h("h2", {}, say(well ? "road-lamps-sound" : "road-lamps-misread")),
    h("p", {}, say(well ? "road-lamps-sound-look" : "road-lamps-misread-look"))]
  : name.split("+").map((one) => {
    const [kind, part] = one.split(":");
    return [h("h2", {}, say(`road-fault-${kind}`, { part: partName(part, plug) })),
      h("p", {}, say(`road-fault-${kind}.look`))];
  }));
