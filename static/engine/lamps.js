// The likely faults behind what a person saw of the lamps; the twin of checks/circuit/rank.py.

export const SOUND = "sound";
const SOUND_PRIOR = 0.3; // as in the Python module: judgement
const AT_ONCE = ["plug_out:all", "fuse_main:all"]; // as there: needs no tool, so it is named first

/** @param {string} a @param {string} b */
const order = (a, b) => (a < b ? -1 : a > b ? 1 : 0);

// [{ faults, share }], likeliest first. `reading`: [[command, lamp, answer]], what was not read left out;
// `systems`: the names in the table that are possible. Throws a RangeError for what the table does not have.
/** @param {LampAnswer[]} reading @param {string[]} systems @param {LampTable} table */
export function rank(reading, systems, table) {
  const shares = new Map();
  const groups = new Map();
  for (const name of systems) {
    const one = table.systems[name];
    if (!one) throw new RangeError(`no system ${name}; there is ${Object.keys(table.systems).join(", ")}`);
    const cells = cellsOf(reading, table.plugs[name.split(".")[0]], table.answers);
    const members = new Map();
    for (const [fault, prior, group, numbers] of all(one)) {
      const match = numbers.reduce((sum, number) => sum + matchOf(table, number, cells), 0) / numbers.length;
      shares.set(fault, (shares.get(fault) ?? 0) + prior * match);
      members.set(group, [...(members.get(group) ?? []), fault]);
    }
    for (const names of members.values()) {
      const sorted = names.toSorted(order);
      groups.set(sorted.join(" "), sorted);
    }
  }
  return ordered(shares, [...groups.values()]);
}

/** The table as the server sends it, by columns, with its rows and faults put together. */
/** @param {PackedLampTable} sent @returns {LampTable} */
export function unpacked(sent) {
  const rows = sent.rows.flatMap((columns) =>
    Array.from(columns[0], (_, row) => columns.map((letters) => letters[row]).join("")));
  const looks = rows.map((row) => saidOf(row, sent.codes));
  const systems = Object.fromEntries(Object.entries(sent.systems).map(([name, { sound, faults }]) => {
    const [names, priors, steps] = faults;
    let last = 0;
    const numbers = steps.map((some) => [some].flat().map((step) => last += step));
    /** @type {string[]} */
    const groups = [];
    return [name, { sound, faults: names.split(";").map(/** @returns {LampFault} */ (fault, i) => {
      const alike = [...new Set(numbers[i].map((number) => looks[number]))].sort().join();
      if (!groups.includes(alike)) groups.push(alike);
      return [fault, priors[i], groups.indexOf(alike), numbers[i]];
    }) }];
  }));
  return { ...sent, rows, systems };
}

/** What a careful eye says of a row, the likeliest answer of each light; what says the same is one group. */
/** @param {string} row @param {LampTable["codes"]} codes */
const saidOf = (row, codes) => Array.from(row, (letter) => codes[letter].indexOf(Math.max(...codes[letter]))).join("");

/** @param {LampTable["systems"][string]} one @returns {LampFault[]} */
const all = (one) => [[SOUND, SOUND_PRIOR, -1, [one.sound]], ...one.faults];

/** @param {LampAnswer[]} reading @param {LampTable["plugs"][string]} plug @param {string[]} answers */
function cellsOf(reading, plug, answers) {
  return reading.map(/** @returns {[number, number]} */ ([command, lamp, answer]) => {
    const [row, column] = [plug.commands.indexOf(command), plug.lamps.indexOf(lamp)];
    const said = answers.indexOf(answer);
    if (row < 0 || column < 0 || said < 0) {
      throw new RangeError(`${command} ${lamp} ${answer}: not a command, lamp and answer of this plug`);
    }
    return [row * plug.lamps.length + column, said];
  }).toSorted((a, b) => a[0] - b[0] || a[1] - b[1]);
}

/** @param {LampTable} table @param {number} number @param {[number, number][]} cells */
function matchOf(table, number, cells) {
  const row = table.rows[number];
  return cells.reduce((product, [place, said]) => product * table.codes[row[place]][said], 1);
}

/** @param {Map<string, number>} shares @param {string[][]} groups */
function ordered(shares, groups) {
  /** @param {string} name */
  const share = (name) => shares.get(name) ?? 0;
  /** @param {string[]} names */
  const best = (names) => Math.max(...names.map(share));
  const total = [...shares.values()].reduce((sum, one) => sum + one, 0);
  const taken = new Set();
  const found = [];
  /** @param {string[]} a @param {string[]} b */
  const listwise = (a, b) => {
    for (let i = 0; i < Math.min(a.length, b.length); i++) if (a[i] !== b[i]) return order(a[i], b[i]);
    return a.length - b.length;
  };
  for (const names of groups.toSorted((a, b) => best(b) - best(a) || listwise(a, b))) {
    const fresh = names.filter((name) => !taken.has(name))
      .sort((a, b) => Number(AT_ONCE.includes(b)) - Number(AT_ONCE.includes(a))
        || share(b) - share(a) || order(a, b));
    fresh.forEach((name) => taken.add(name));
    if (fresh.length) {
      found.push({ faults: fresh, share: fresh.reduce((sum, name) => sum + share(name), 0) / total });
    }
  }
  return found.sort((a, b) => b.share - a.share || listwise(a.faults, b.faults));
}

// The light not yet read that would tell most about what is left, as [command, lamp]; null when nothing would.
/** @param {LampAnswer[]} reading @param {string[]} systems @param {LampTable} table @param {string[]} [fitted] */
export function nextLook(reading, systems, table, fitted = table.plugs[systems[0].split(".")[0]].lamps) {
  const plug = table.plugs[systems[0].split(".")[0]];
  const read = new Set(reading.map(([command, lamp]) => `${command} ${lamp}`));
  let best = null;
  let most = 0;
  for (const command of plug.commands) {
    for (const lamp of fitted) {
      if (read.has(`${command} ${lamp}`)) continue;
      const told = spreadOf(command, lamp, reading, systems, table);
      if (told > most + 1e-9) [most, best] = [told, [command, lamp]];
    }
  }
  return best;
}

// Bits a light is expected to tell apart, over the answers it may get.
/**
 * @param {string} command
 * @param {string} lamp
 * @param {LampAnswer[]} reading
 * @param {string[]} systems
 * @param {LampTable} table
 */
function spreadOf(command, lamp, reading, systems, table) {
  const weights = table.answers.map((answer) => weightOf([...reading, [command, lamp, answer]], systems, table));
  const total = weights.reduce((sum, one) => sum + one, 0);
  return weights.reduce((sum, one) => sum - (one > 0 ? one / total * Math.log2(one / total) : 0), 0);
}

/** @param {LampAnswer[]} reading @param {string[]} systems @param {LampTable} table */
function weightOf(reading, systems, table) {
  let total = 0;
  for (const name of systems) {
    const one = table.systems[name];
    const cells = cellsOf(reading, table.plugs[name.split(".")[0]], table.answers);
    for (const [, prior, , numbers] of all(one)) {
      total += prior * numbers.reduce((sum, number) => sum + matchOf(table, number, cells), 0) / numbers.length;
    }
  }
  return total;
}
