// The shapes that scripts hand each other, for the type check alone; nobody fetches this file.

/** From least to most. */
type Interval = [number, number];
/** How much more drag a hub has than its mate, N m: middle, spread, and how far mates differ. */
type Gap = [number, number, number, number];
type Scope = "trailer" | "axle" | "wheel";
type Level = "stop" | "mend" | "look" | "nothing" | "unchecked";

/** A formula as the rulebook has it: a number, or an operator and its operands. */
type Tree = number | Branch;
type Branch =
  | [op: "fact" | "limit" | "quantity" | "rank" | "known", name: string]
  | [op: "is", name: string, wanted: string[]]
  | [op: "pick", name: string, cases: Record<string, Tree>]
  | [op: "table", name: string, at: Tree]
  | [op: "each", gather: string, wheels: string, body: Tree]
  | [op: "convert", from: string, to: string, body: Tree]
  | [op: "if", condition: Tree, then: Tree, otherwise: Tree]
  | [op: OfOne, of: Tree]
  | [op: OfTwo, a: Tree, b: Tree]
  | [op: "min" | "max", first: Tree, ...others: Tree[]];
type OfOne = "mate" | "not" | "low" | "high" | "neg" | "abs" | "exp" | "ln";
type OfTwo = "and" | "or" | "between" | "+" | "-" | "*" | "/" | "^" | "<" | "<=";
type Operator = Branch[0];
/** The branches that may have one of some operators. */
type BranchOf<Op extends Operator, Any extends Branch = Branch> = Any extends Branch
  ? Op extends Any[0]
    ? Any
    : never
  : never;
/** NO, YES or MAYBE of `engine/interval.js`. */
type Truth = number;
/** A set of choices: a bit each, as a BigInt where there are many. */
type Choices = number | bigint;
/** What a tree comes to: a range, a truth or a set of choices; the loader of the rules has proven which. */
type Value = Interval | Truth | Choices;
type Test = (kase: Case, place: string) => Value;
type Maker<Op extends Operator = Operator> = (tree: BranchOf<Op>, ctx: Context) => Test;
type Facts = Map<string, Value>;

interface Unit {
  dimension: string;
  factor: number;
  offset: number;
  label: string;
  places: number;
  us?: string;
  metric?: string;
}
type Units = Record<string, Unit>;

/** What a tire's size leaves open; `checks/sizes.toml` explains the numbers. */
interface Sizes {
  design: number;
  no_aspect: Interval;
  small_rim: Interval;
  large_rim: Interval;
  small_to: number;
}

/** A fact of any kind: `choices` belong to a choice, the numbers to the others. */
interface Fact {
  scope: Scope;
  kind: "number" | "choice" | "made" | "size" | "text";
  choices: string[];
  unit: string;
  low: number;
  high: number;
  spread: number;
  show: { us: string; metric: string };
  when?: Tree;
  only?: Record<string, Tree>;
  optional?: boolean;
  past?: boolean;
  depth?: string;
  sizes?: Sizes;
}

interface Limit {
  value: number | Interval | Interval[];
  unit: string;
  source: string;
  standing: string;
}

interface Quantity {
  scope: Scope;
  unit: string;
  formula: Tree;
  source: string;
  standing: string;
}

interface Finding {
  level: Level;
  when: Tree;
  source: string;
  standing: string;
  cautions?: string[];
  shows?: string[];
  beneath?: string;
  optional?: boolean;
  told_only?: boolean;
  holds?: boolean;
  sends_on?: boolean;
  danger?: number;
  alarm?: Tree;
  moot?: Tree;
  card?: string;
}

interface Point {
  id: string;
  scope: Scope;
  checks: string[];
  facts: string[];
  findings: string[];
  weight: number;
  together?: boolean;
  applies?: Tree;
  shows?: string[];
}

interface Station {
  id: string;
  points: Point[];
}

/** A part of a place of the walk, with the facts it settles. */
interface Zone {
  id: string;
  place: string;
  facts: string[];
}
/** What nobody can guess at a place: a count or a reading that shows somebody stood there. */
interface Proof {
  place: string;
  zone: string;
  fact: string;
}
/** A zone as it is asked, or the lamps of one switch. */
interface ZoneRow {
  zone: string;
  id: string;
  faults: string[];
  keys: string[];
  state: Look | "";
}

/** `/rulebook.json`. */
interface Rulebook {
  format: number;
  hash: string;
  units: Units;
  facts: Record<string, Fact>;
  limits: Record<string, Limit>;
  quantities: Record<string, Quantity>;
  findings: Record<string, Finding>;
  stations: Station[];
  zones: Zone[];
  proofs: Proof[];
}

/** A part without what the rulebook `beside` has: by kind `like` names that, or `but` names all else of it. */
type SentBeside = Rulebook & { like: Record<string, string[]>; but: Record<string, string[]>; beside: string };

/** What formulas are compiled against. */
interface Context {
  whole: Record<string, Value>;
  scope: Record<string, Scope>;
  choices: Record<string, string[]>;
  limits: Record<string, Limit["value"]>;
  quantities: Record<string, Tree>;
  units: Units;
  compiled: Record<string, Made>;
  /** Long trees by their text; how they are worked `now`, which is by what is `kept` once they stand in several. */
  shared: Record<string, Record<"now" | "kept" | "test", Test>>;
}

/** A part of the rules, compiled once: a quantity by its name, or a tree. */
interface Made {
  of: string | Tree;
  body: Test;
  leans?: Leans;
}
/** What it came to at a place, and the keys it looked at. */
interface Worked {
  at: string;
  made: Made;
  value: Value;
  reads: Reads;
  /** The slots of all that, once somebody has asked for them. */
  slots?: Slot[];
  turn: number;
}
/** What was looked at, in order: slots of facts, and what was worked out by those that it looked at. */
type Reads = (Slot | Worked)[];
/** A key; the turn of reading that found it last; how it stood in the walk of the turn `asked`. */
interface Slot {
  key: string;
  reads: null;
  turn: number;
  asked: number;
  stage: number;
}

/** A set of answers as compiled formulas read it, by key. */
interface Case {
  facts: Facts;
  wheels: string[];
  seen: Reads | null;
  cache: Map<string, Worked>;
}

type Say = (id: string, values?: WordValues) => string;
interface Words {
  say: Say;
  has: (id: string) => boolean;
}

interface CompiledFinding extends Finding {
  id: string;
  test: Test;
  alarmed?: Test;
  mooted?: Test;
}
type CompiledPoint = Omit<Point, "applies" | "findings"> & {
  json: Point;
  leans?: Leans;
  applies?: Test;
  findings: CompiledFinding[];
  moots: boolean; // of any of them
};

/** The rulebook with its formulas compiled. */
type Book = Omit<Rulebook, "findings" | "stations"> & {
  words: Words;
  context: Context;
  findings: Record<string, CompiledFinding>;
  stations: { id: string; points: CompiledPoint[] }[];
  asks: Record<string, Test | undefined>;
  offers: Record<string, Record<string, Test | undefined>>;
  homes: Map<string, Home>;
  stands: Record<string, Stand[]>;
};

/** The names that trees lean on: 1 where for other wheels than their own, too, else 0. */
type Leans = Map<unknown, number>;

/** Where an answer belongs, and what it was read as last. */
interface Home {
  key: string;
  name: string;
  place: string;
  fact: Fact;
  whole: Value;
  raw?: Raw;
  day?: number;
  value?: Value;
  slot: Slot;
}

/** A point at one place of a check, with what it may ask there. */
interface Stand {
  station: string;
  point: CompiledPoint;
  place: string;
  spots: { home: Home; ask?: Test }[];
}

/** What `load` of `engine/judge.js` returns: all that the app asks of the rules. */
interface Loaded {
  hash: string;
  words: Words;
  /** By what it remembers of the last one; what is kept is judged afresh. */
  judge: (payload: Payload, afresh?: boolean) => Verdict;
  asked: (check: string, facts: Answers, date: string) => Visited[];
  offered: (key: string, facts: Answers, date: string) => string[];
  read: (payload: Payload) => { kase: Case; book: Book };
  readAnswer: (key: string, raw: Raw, date: string) => Value;
}

interface Visited {
  station: string;
  point: Point;
  place: string;
  keys: string[];
}

/** An answer as typed: a choice, several, a number, a text with its unit, a range, or null for *not sure*. */
type Raw = string | number | boolean | null | undefined | string[] | number[];
type Answers = Record<string, Raw>;

interface Payload {
  check: string;
  date: string;
  facts: Answers;
}

/** One point at one place, as a walk comes by it. */
interface Visit {
  point: CompiledPoint;
  place: string;
  keys: Home[];
  later: Home[];
  over: boolean; // something burns, so that `later` is asked no more
}

/** What a point comes to at a place: its part of a verdict, and its share of readiness at worst and at best. */
interface Seen {
  entry?: Verdict["points"][0];
  found: Found[];
  unsettled: Doubt[];
  left: Verdict["left_out"][0] | null;
  share: number;
  ends: Interval;
}
/** A verdict with what it came by, stand by stand. */
interface Judgement {
  all: Stand[];
  depth: number;
  kase: Case;
  walk: (Visit | undefined)[];
  keys: Home[];
  turn: number;
  seen: (Seen | undefined)[];
  verdict: Verdict;
}

interface Found {
  finding: string;
  place: string;
  level: Level;
}
interface Doubt extends Found {
  why: "open" | "vague";
  facts: string[];
}

interface Verdict {
  rulebook: string;
  check: string;
  date: string;
  level: Level;
  readiness: Interval | null;
  coverage: { answered: number; asked: number };
  places: Record<string, Level>;
  points: { point: string; place: string; level: Level; open: string[] }[];
  findings: Found[];
  cannot_tell: Doubt[];
  next: { fact: string; place: string; level: Level; settles: number }[];
  left_out: { point: string; place: string }[];
}

/** One step of a working. */
interface Step {
  kind: "fact" | "limit" | "quantity";
  id: string;
  place: string;
  label: string;
  value: Interval | Interval[] | string[];
  text: string;
  unit?: string;
  answered?: boolean;
  sum?: string;
  source?: string;
  standing?: string;
}

/** The step of a quantity. */
type RangeStep = Step & { value: Interval };
/** A range as text, in the units of the reader. */
type IntervalWriter = (range: Interval, unit: string) => string;

/** `/lamp-table.json`, unpacked. */
interface LampTable {
  plugs: Record<string, { commands: string[]; lamps: string[] }>;
  answers: string[];
  rows: string[];
  codes: Record<string, number[]>;
  systems: Record<string, { sound: number; faults: LampFault[] }>;
}
/** The same by columns, as it is sent. */
type PackedLampTable = Omit<LampTable, "rows" | "systems"> & {
  rows: string[][];
  systems: Record<string, { sound: number; faults: [string, number[], (number | number[])[]] }>;
};
/** What it is, how likely, which others look the same, and its rows. */
type LampFault = [fault: string, prior: number, group: number, rows: number[]];
type LampAnswer = [command: string, lamp: string, answer: string];

/** One reading in time: when, and from least to most. */
type Reading = [at: number, low: number, high: number];

// ---- what the phone keeps ----

/** What a person typed, by the answer's key, as it is shown again. */
type Typed = Record<string, string>;

/** What decides which questions a check still has; `known` and `skipped` are keys. */
interface Asked extends Payload {
  known?: string[];
  skipped?: string[];
  /** Signs whose wheel is not told; one alone as an earlier release had it. */
  unplaced?: string[] | string;
}
/** An answer as an entry gives it: `typed` is what stood there, with its unit. Without `raw` it is skipped. */
interface Answer {
  raw?: Raw;
  typed?: string;
}
type Given = Record<string, Answer>;
type Look = "fine" | "glance" | "unsure" | "something";

/** Of a *Stop now*: the steps done, and where they stand, as told. */
interface AtStop {
  stepsDone?: string[];
  stoppedAtPlace?: string;
}
/** A check that is begun. `rev` counts its stored versions. */
interface Draft extends Asked, AtStop {
  id: string;
  trailer: string | null;
  name?: string;
  started?: string;
  typed?: Typed;
  aside?: Answers;
  link?: string;
  due?: string;
  run?: string;
  rev?: number;
  rulebook?: string;
  /** What stands in an entry that was left before it was answered. */
  begun?: Begun;
  still?: boolean;
  // of a walk: how each zone was looked at, what the last walk proved, and whose turn it is to be proof
  looked?: Record<string, Look>;
  before?: Answers;
  turn?: number;
  // of a stop: when it was begun (ms), minutes driven
  stoppedAt?: number;
  /** When eyes had seen no sign but those told (ms). */
  seenAt?: number;
  drivenFor?: number[];
  /** When each hub was felt or read (ms), by what was told of it. */
  feltAt?: Record<string, number>;
}
interface Begun {
  step?: string;
  ticks?: [key: string, raw: Raw][];
  text?: string;
  unit?: string;
}

/** One question, or a list of ticks, as a walk comes by it. */
interface QuestionStep {
  id: string;
  station: string;
  point: string;
  place: string;
  keys: string[];
  together: boolean;
}
/** How many questions were answered how. */
interface Counts {
  looked: number;
  glanced: number;
  unsure: number;
  open: number;
}
type VisitedPoint = Omit<QuestionStep, "id" | "together">;

interface CheckBody extends Payload {
  typed?: Typed;
  trailer?: string | null;
  rulebook: string;
  verdict: Verdict;
  by?: { name: string; phone: string };
}
/** A check with its verdict, or with that of some of its points. */
interface Judged extends Payload {
  id?: string;
  typed?: Typed;
  verdict: Pick<Verdict, "findings" | "cannot_tell">;
}
type WholeJudged = Judged & { verdict: Verdict };
interface TrailerBody {
  trailer: string;
  name: string;
  facts: Answers;
  typed?: Typed;
  retired?: boolean;
}
interface WorkBody {
  about: string | null;
  trailer?: string | null;
  answer?: string;
  by?: string;
  done?: string;
}
/** That a borrower has brought a trailer back to the desk. */
interface OutingBody {
  what: string;
  trailer: string | null;
  by?: { name: string; phone: string };
}
/** What is hashed and sent: it never changes. */
interface RecordOf<Kind extends string, Body> {
  id: string;
  kind: Kind;
  version: number;
  made: string;
  body: Body;
}
type CheckRecord = RecordOf<"check", CheckBody>;
type TrailerRecord = RecordOf<"trailer", TrailerBody>;
type WorkRecord = RecordOf<"work", WorkBody>;
type RunRecord = RecordOf<"run", RunBody>;
type OutingRecord = RecordOf<"outing", OutingBody>;
type AnyRecord = CheckRecord | TrailerRecord | WorkRecord | RunRecord | OutingRecord;

/** What a kept check was judged by, and its words. */
type KeptBy = { record: CheckRecord; words?: string };
/** A record in the store, with what this phone knows about it besides. */
interface KeptRecord extends AtStop {
  id: string;
  /** *Stop nows* of several that were ticked as over. */
  settled?: string[];
  record: AnyRecord;
  hash: string;
  sent?: string;
  draft?: string;
  words?: string;
  link?: string;
  due?: string;
  of?: string;
  /** Questions passed over on purpose. */
  skipped?: string[];
  /** The run it was made on, of whatever trailer. */
  run?: string;
  /** It is not here: a link has told of it. */
  told?: boolean;
}

interface OutboxItem {
  id: string;
  check?: string;
  message: string;
  code?: string;
}
interface KeptPhoto {
  id: string;
  check: string;
  point: string;
  type: string;
  width: number;
  height: number;
  length: number;
  hash: string;
  made: string;
  sent?: string;
}
interface Picture {
  id: string;
  data: ArrayBuffer;
  type: string;
}

/** A check that a shop asked for. */
interface Due {
  id: string;
  check: string;
  what: string;
  by?: string | null;
  at_km?: number | null;
  done?: boolean;
}
type Undecided = { record: string; level: "stop" | "mend" | "look"; made: string; findings: Found[] };

/** A shop's link as the phone keeps it. */
interface KeptLink {
  id: string;
  secret: string;
  made: string;
  kind?: string;
  pressed?: string;
  /** When a borrower said that the trailer is back at the desk. */
  back?: string;
  told?: boolean;
  dead?: string | null;
  /** Whether its server no longer knows it, so that no shop can decide what is open. */
  lost?: boolean;
  died?: number;
  read?: string;
  shop?: { name: string; phone?: string };
  trailer?: LinkTrailer;
  work?: string;
  service?: Service | null;
  expires?: string;
  due?: Due[];
  done?: Record<string, string>;
  open?: Undecided & { more?: Undecided[] } | null;
  replies?: ShopReply[];
  /** Replies that were on the screen. */
  seen?: string[];
  borrower?: { name?: string; phone?: string };
}
/** What a shop did to the trailer last, by its codes. */
interface Service {
  work: string[];
  finished: string;
}
interface LinkTrailer {
  id: string;
  name: string;
  facts?: Answers;
  typed?: undefined;
}
interface ShopReply {
  record: string;
  made: string;
  text: string;
}
/** A link that has told what it is for. */
type ReadLink = KeptLink & Required<Pick<KeptLink, "read" | "shop" | "trailer">>;

/** What each kind of the store holds. */
interface Kinds {
  drafts: Draft;
  records: KeptRecord;
  outbox: OutboxItem;
  settings: { key: string; value: unknown };
  rulebooks: { hash: string; data: Rulebook };
  words: { hash: string; data: WordsFile };
  links: KeptLink;
  photos: KeptPhoto;
  pictures: Picture;
}
type Kind = keyof Kinds;
/** What has to be there for a change, and whether what is there fits. */
type Needs = [kind: Kind, key: string, fits?: (there: Draft) => boolean];
/** `[kind, value]` puts, `[kind, null, key]` removes. */
type Change = { [K in Kind]: [kind: K, value: Kinds[K]] | [kind: K, value: null, key: string] }[Kind];
interface StoreOf {
  all<K extends Kind>(kind: K): Promise<Kinds[K][]>;
  get<K extends Kind>(kind: K, key: string): Promise<Kinds[K] | undefined>;
  commit(changes: Change[], needs?: Needs | null): Promise<void>;
  change<K extends Kind>(
    kind: K,
    key: string,
    make: (stored: Kinds[K] | undefined) => Kinds[K] | undefined,
  ): Promise<Kinds[K] | undefined>;
}

// ---- words ----

type Piece = string | { value: string } | { select: string; cases: Record<string, Sentence> };
type Sentence = string | Piece[];
type WordValues = Record<string, string | number | null | undefined>;
/** `/words.LANGUAGE.json`: ids with spaces between, each shortened by the last, and their texts in the same order. */
type SentWords = Omit<WordsFile, "say"> & { ids: string; say: Sentence[] };
interface WordsFile {
  language: string;
  say: Record<string, Sentence>;
  hash: string;
  whole?: string;
}

// ---- sending ----

interface ReplyBody {
  id?: string;
  hash?: string;
  clock?: number;
  message?: string;
  description?: string;
  // of several records in one request, in their order
  answers?: (Reply | null)[];
  // what the server lacks of what it was asked about
  records?: unknown;
  photos?: unknown;
  // of a pairing: what was brought, how it is fetched, and until when
  bundle?: unknown;
  secret?: string;
  qr?: string;
  expires?: string;
  error?: { code?: string; message?: string; fix?: string };
}
interface Reply {
  status: number;
  body: ReplyBody | null;
}
interface SendState {
  waiting: Set<string>;
  refused: OutboxItem[];
  clock: number;
  why?: string; // the server asks to wait
}

type Fields = Record<string, unknown>;
/** A rulebook as the app opened it, with its JSON and that of its words. */
interface AppBook extends Loaded {
  data: Rulebook;
  said: WordsFile;
}

/** Words as rulebooks held them before they stood apart: of a choice one for each answer. */
type OldText = string | Record<string, string>;
type OldWords = Record<string, Record<string, string | Record<string, OldText>>>;

// ---- photos ----

/** A picture made small, as it is kept. */
interface Pixels {
  data: ArrayBuffer;
  type: string;
  width: number;
  height: number;
}
interface Shrunk {
  blob: Blob;
  width: number;
  height: number;
}
/** What keeping needs of the app. */
interface Keeper {
  store: StoreOf;
  sender: { report(): Promise<void>; send(): Promise<void> };
}

// ---- queries ----

/** A kept check's rulebook, ready to judge and to show by. */
type OpenBook = Loaded & { data: Rulebook; said?: WordsFile };
type OldRulebook = Rulebook & { words?: OldWords };
/** What finding a check's rulebook needs of the app. */
interface Books {
  book: AppBook;
  figuresBook?: AppBook;
  books: Map<string, OpenBook>;
  store: StoreOf;
}
type KeptCheck = KeptRecord & { record: CheckRecord };
type SavedTrailer = TrailerBody & { id: string };

type AtKind = (kind: Kind) => IDBObjectStore;

/** What the phone knows of a run, for the store. */
type Sealed = Pick<KeptRecord, "id" | "record" | "hash">;

// ---- settings and the app ----

type System = "us" | "metric";
interface Settings {
  units: System;
  device: string;
  started?: boolean;
  persisted?: boolean | null;
  trailer?: string | null;
  fetched?: string;
  /** When the server was last asked what it lacks, ms. */
  offered?: number;
  help_number?: string;
  aloud?: boolean;
  bigTouch?: boolean;
  run?: Run | null;
  trip?: Partial<Record<string, Packing>>;
  tripAir?: Record<string, string>;
  lampTest?: LampTest;
}
/** What is packed for a trip, and the sizes noted beside it. */
interface Packing {
  ticks: string[];
  notes: Record<string, string>;
}
/** A lamp test as it stands; `null` where the person is not sure. */
interface LampTest {
  plug: string;
  lamps: string | null;
  ground: string | null;
  supply: string | null;
  who: string;
  absent: string[];
  reading: Record<string, Record<string, string>>;
}

/** What the screens share: what is kept, and what is known since the start. */
interface App extends Books {
  lasting: boolean;
  settings: Settings;
  links: KeptLink[];
  /** The newest answers, should the disk refuse them. */
  drafts: Map<string, Draft>;
  sendState: SendState;
  updates: import("./data/updates.js").Updates;
  sender: import("./data/outbox.js").Sender;
  full?: boolean;
}

// ---- runs ----

interface Leg {
  name: "out" | "back";
  km: number;
  minutes: number;
}
/** A check that a shop asked for, as a run counts it. */
interface RunDue {
  id: string;
  km: number;
  check: string;
  what: string;
}
/** A stop by distance, or one by the clock. */
type RunStop = { id: string; what: string[]; dues?: RunDue[]; places?: string[]; axles?: number } & (
  | { km: number; minutes?: undefined }
  | { minutes: number; km?: undefined }
);
type StopByKm = Extract<RunStop, { km: number }>;
type StopAhead = RunStop & { left: number; minutesLeft: number };
/** A place in degrees, `accuracy` in m. */
interface Fix {
  latitude: number;
  longitude: number;
  accuracy: number;
}
/** Where it is known from that something was done to a trailer, and since when. */
interface Why {
  by: string;
  made: string | null;
}
/** A run under way. km, minutes and km/h; `last`, `began`, `ended`, `stood` and `silent` in ms since 1970. */
interface Run {
  id: string;
  trailer: string | null;
  link: string | null;
  speed: number;
  work: string[];
  why: Record<string, Why>;
  dues: RunDue[];
  legs: Leg[];
  km: number;
  by: "time" | "position";
  minutes: number;
  last: number;
  began: number;
  rests: boolean;
  ended: number | null;
  fix: Fix | null;
  reached: Record<string, number>;
  done: Record<string, { at: number; check: string | null }>;
  heard?: string[];
  /** Kept checks made on it. */
  checks?: string[];
  /** Looks that they asked for, each at a distance of the run. */
  again?: StopByKm[];
  /** The last distance typed, in km, and the stops that it alone reached. */
  typed?: { from: number; to: number; reached: string[] };
  silent?: number;
  stood?: number | null;
  cold?: { km: number; minutes: number };
}
/** What of the phone's own a link's page shows. */
interface LinkSeen {
  here: Set<string>;
  last: string | undefined;
  own: Carried;
  stops: boolean;
}
/** Whose verdicts a run carries. */
interface RunOf {
  id?: string;
  trailer: string | null;
  link?: string | null;
  checks?: string[];
}
/** The worst that is open on a run's trailer, and whether what was found on it was towed away. */
interface Carried {
  level: Level | null;
  at: string;
  found?: Found;
  /** What else was found of that level. */
  others?: Found[];
  facts: Answers;
  item?: KeptRecord;
  made?: string;
  towed?: boolean;
  /** Whose shop has not decided it. */
  shop?: string;
  /** What kind of check it was found by; none where a shop tells of it. */
  check?: string;
  /** Which check or draft it is, and of what. */
  of?: { id: string; trailer?: string | null; link?: string | null; run?: string };
  /** What else nobody has answered of the same trailer, worst first. */
  more?: Carried[];
  /** The way to take back what was answered lately. */
  undo?: () => Child;
}
/** A kept check that was made on a run. */
interface CheckDone {
  check: string;
  kind: string;
  verdict?: Verdict;
  facts?: Answers;
  felt?: number;
}
/** What a run is begun with. */
interface RunBegun {
  id: string;
  trailer?: string | null;
  link?: string | null;
  speed: number;
  work?: string[];
  why?: Record<string, Why>;
  dues?: RunDue[];
  now: number;
}
interface KeptStop {
  id: string;
  what: string[];
  places?: string[];
  axles?: number;
  km?: number;
  minutes?: number;
  reached: string | null;
  done: string | null;
  check: string | null;
}
/** What is kept of a run that has ended. */
interface RunBody {
  run: string;
  trailer: string | null;
  began: string;
  ended: string | null;
  by: Run["by"];
  km: number;
  minutes: number;
  speed: number;
  work: string[];
  legs: Leg[];
  stops: KeptStop[];
}
/** A kept check or run with the time it was made. */
type PastCheck = CheckBody & { id: string; made: string };
type PastRun = RunBody & { id: string; made: string };
interface Past {
  checks: PastCheck[];
  runs: PastRun[];
}
/** A check with the time it was made, kept or not yet. */
type MadeCheck = Payload & { id: string; made: string; verdict?: Verdict };
/** With `at`: ms since 1970. */
type TimedCheck = MadeCheck & { at: number };

// ---- screens ----

/** What an element holds; false, null and undefined are left out. */
type Child = Node | string | number | false | null | undefined | Child[];
/** What a person opens, types in or stands on. */
type Control = Element & Partial<Pick<HTMLElement, "focus">> & { open?: boolean; name?: string; value?: string;
  defaultValue?: string };
type Heard<E> = Event & { target: E; currentTarget: E };
type Listener<E> = (event: Heard<E>) => unknown;
/** Attributes and `on*` listeners. */
type Props<E> = {
  [on: `on${string}`]: Listener<E>;
  [name: string]: string | number | boolean | null | undefined | Listener<E>;
};
/** An element to show, the address of the screen that takes its place, or nothing where it went on to another. */
type Shown = Element | string | null | undefined | void;
/** An address and its screen, which gets the pattern's groups; those that are optional may be missing. */
type Route = [pattern: RegExp, screen: (...parts: string[]) => Shown | Promise<Shown>];

interface PageParts {
  title?: string | null;
  back?: Child;
  middle?: Child;
  end?: Child;
  body: Child;
  foot?: Child;
  name?: string;
}
type Give = (answer: Answer) => unknown;
/** What every entry of an answer gets: `give` hears a whole answer, `fail` what is wrong with it. */
interface Entry {
  book: OpenBook;
  key: string;
  date: string;
  give: Give;
  fail: (message: string) => void;
  unsure: () => unknown;
}
/** The same answer given at another place, offered once more. */
interface Suggestion {
  raw: Raw;
  text: string;
  typed: string;
}
interface RoughPick {
  text: string;
  low: number;
  high: number;
}
/** A finding or a doubt with all the places it stands at. */
interface Gathered extends Found {
  places: string[];
  facts: string[];
  why?: Doubt["why"];
}
/** What a check is begun under: a shop's link, and the trailer it names. */
interface Under {
  trailer: { id: string | null; facts: Answers; typed: Typed };
  link: string;
  due?: string;
}
/** What a reading is drawn from. */
interface ChartPoint {
  at: number;
  low: number;
  high: number;
  rough?: boolean;
}
interface ChartMark {
  at: number;
  kind: string;
  text: string;
}
/** A file of everything on a phone, once it was looked through. */
interface ExportFile {
  records: ExportedRecord[];
  drafts: Draft[];
  rulebooks: Rulebook[];
  words?: WordsFile[];
  links?: KeptLink[];
  photos?: ExportedPhoto[];
}
type ExportedRecord = Omit<KeptRecord, "id">;
type ExportedPhoto = KeptPhoto & { data: string };
/** What was counted in a file that is read in. */
interface FileCounts {
  records: number;
  known: number;
  drafts: number;
  photos: number;
  links: number;
}

/** A trailer's facts as they are edited, out of a draft or by themselves. */
interface TrailerEdit {
  id?: string;
  check?: string;
  date?: string;
  trailer: string;
  name: string;
  facts: Answers;
  typed?: Typed;
  retired?: boolean;
}
/** One answer on a button of its own. */
type Button = [raw: string | number, text: string];
/** An answer for one tap: what it means, how it reads, and what is kept as typed. */
type Offer = [raw: Raw, text: string, typed?: string];
interface RowParts extends Pick<Entry, "book" | "key" | "give"> {
  answer: Raw;
  asked: boolean;
  system: System;
  typed?: string;
  other?: string | null;
  choices?: string[] | null;
  where?: string;
}
interface NumberEntry extends Entry {
  fact: Fact;
  system: System;
  before?: Begun | null;
  suggest?: Suggestion | null;
}
interface TextEntry extends Entry {
  before?: string;
}
interface PlanParts {
  axles?: number;
  at?: string | null;
  station?: string;
  levels?: Record<string, Level> | null;
}
interface CalendarEvent {
  start: Date;
  title: string;
  text: string;
  id: string;
}
interface ChartParts {
  points: ChartPoint[];
  band?: Interval | null;
  marks?: ChartMark[];
  label: string;
  unit: string;
  digits?: number;
}

// ---- drawings ----

type XY = [x: number, y: number];
/** What a drawing has to know of a trailer. */
interface Build {
  axles: number;
  brakes: string;
  boat: boolean;
  tilt: boolean;
  ramps: boolean;
  enclosed: boolean;
  wide?: boolean;
}
/** A drawing of one thing, and the facts it explains. */
interface Subject {
  draw: (label: string, build: Partial<Build>) => Element;
  facts: string[];
}
/** Where a zone's plate stands, and the point of the drawing it belongs to. */
interface ZoneMark {
  plate: XY;
  at: XY;
}
interface PlaceDrawing {
  width: number;
  height: number;
  parts: Child[];
  zones: Record<string, ZoneMark>;
}

// ---- of single screens ----

type LampPlug = LampTable["plugs"][string];
/** The trailer's pressure and the days it is worked out for. */
interface Weather {
  air: Fact;
  unit: string;
  pressureUnit: string;
}
/** What the page of a *Stop now* shows. */
interface StopSeen {
  book: OpenBook;
  check: Judged | Draft;
  stops: Found[];
  draft?: Draft;
  item: KeptCheck | null;
  said: Child[] | null;
  trailer: { name: string; facts?: Answers } | null;
}
/** What nobody has answered, on the front page: its card, and what of it stands in a line. */
interface OpenCard {
  whole: HTMLElement;
  lines: { level: Level; href: string; what: string; trailer: string | undefined; made: string }[];
}
/** Of it what is shown before its page has come. */
interface StopShort {
  id: string;
  draft: Draft | undefined;
  check: { check: string; facts: Answers };
  stops: Found[];
  known: Found[]; // those of this release
}
/** A trailer as its own questions begin. */
interface TrailerFacts {
  id: string;
  name: string;
  facts: Answers;
  typed?: Typed;
}
type LampSetup = "plug" | "lamps" | "ground" | "supply";
/** What a check is begun for: a due check, or the walk of a desk's code. */
interface DueWanted {
  id: string | null;
  check: string;
}
type Question = import("./screens/ask.js").Question;
/** What is fetched later for some entries. */
interface Pads {
  checklist?: typeof import("./screens/checklist.js").checklist;
  datePad?: typeof import("./parts/sidewall.js").datePad;
  textPad?: typeof import("./parts/sidewall.js").textPad;
  sizePad?: typeof import("./parts/sidewall.js").sizePad;
  picker?: typeof import("./parts/sidewall.js").picker;
}
/** What a run knows of a stop before it is begun. */
interface StopKnown {
  trailer?: string | null;
  facts?: Answers;
  typed?: Typed;
  stoppedAt?: number;
}
interface StopParts extends PageParts {
  home?: string | null;
}
/** A draft that holds everything a draft of figures has from its beginning. */
type WorkedDraft = Draft & Required<Pick<Draft, "typed" | "skipped">>;
/** A job form as this device keeps it. */
interface KeptForm {
  made: number;
  form: string;
  fields: [name: string, value: string][];
}

// ---- figures ----

/** The figures of a draft, and how this phone's owner reads them. */
type OwnFigures = import("./data/figures.js").Figures & { app: App; system: System };
/** A point that works something out. */
type Topic = Point & { shows: string[] };
/** A figure at a place: its steps, the keys they stand on, and those that nobody has answered. */
interface FigureOf {
  name: string;
  place: string;
  steps: Step[];
  keys: string[];
  missing: string[];
}
/** Whose facts are to be confirmed, where not those of a check. */
interface StillOf {
  book?: OpenBook;
  fixed?: string[];
  onward?: (next: Draft) => unknown;
}
/** Resolves in an idle moment, to what tells how many ms of it are left. */
type Idle = () => Promise<() => number>;
/** Says that the app could not start, and why; the page brings it. */
declare var notStarted: (error: unknown) => void;
