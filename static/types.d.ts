// The shapes that scripts hand each other, for the type check alone; nobody fetches this file.

/** From least to most. */
type Interval = [number, number];
/** How much more drag a hub has than its mate, N m: middle, spread, and how far mates differ. */
type Gap = [number, number, number];
type Scope = "trailer" | "axle" | "wheel";
type Level = "stop" | "mend" | "look" | "nothing" | "unchecked";

/**
 * A formula as the rulebook has it: a number, or `["+", a, b]`. What stands behind an operator is the
 * operator's own, and the loader of the rules has proven it.
 */
type Tree = any;
/** What a tree comes to: a range, a truth or a set of choices; the loader has proven which. */
type Value = any;
type Test = (kase: Case, place: string) => Value;
type Gather = (values: any[]) => Value;
/** A set of choices: a bit each, as a BigInt where there are many. */
type Choices = any;
type Maker = (tree: any, ctx: Context) => Test;
type Facts = Record<string, Record<string, Value>>;

interface Unit {
  dimension: string;
  factor: number;
  offset: number;
  label: string;
  places: number;
  us?: string;
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
  point: string;
  when: Tree;
  source: string;
  standing: string;
  cautions?: string[];
  shows?: string[];
  beneath?: string;
  optional?: boolean;
  told_only?: boolean;
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
  zones: any[];
  proofs: any[];
}

/** What formulas are compiled against. */
interface Context {
  whole: Record<string, Value>;
  scope: Record<string, Scope>;
  choices: Record<string, string[]>;
  limits: Record<string, any>;
  quantities: Record<string, Tree>;
  units: Units;
  compiled: Record<string, { body: Test; slot: number }>;
}

/** A set of answers as compiled formulas read it: name, then place, then value. */
interface Case {
  facts: Facts;
  wheels: string[];
  seen: Set<string> | null;
  cache: Record<string, Value>[];
}

type Say = (id: string, values?: Record<string, any>) => string;
interface Words {
  say: Say;
  has: (id: string) => boolean;
}

interface CompiledFinding extends Finding {
  id: string;
  test: Test;
}
type CompiledPoint = Omit<Point, "applies" | "findings"> & {
  json: Point;
  applies?: Test;
  findings: CompiledFinding[];
};

/** The rulebook with its formulas compiled. */
type Book = Omit<Rulebook, "findings" | "stations"> & {
  words: Words;
  context: Context;
  findings: Record<string, CompiledFinding>;
  stations: { id: string; points: CompiledPoint[] }[];
  asks: Record<string, Test | undefined>;
  offers: Record<string, Record<string, Test | undefined>>;
};

/** What `load` of `engine/judge.js` returns: all that the app asks of the rules. */
interface Loaded {
  hash: string;
  words: Words;
  judge: (payload: Payload) => Verdict;
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
type Raw = any;
type Answers = Record<string, Raw>;

interface Payload {
  check: string;
  date: string;
  facts: Answers;
}

/** One point at one place, as a walk comes by it. */
interface Visit {
  station: string;
  point: CompiledPoint;
  place: string;
  keys: string[];
  deeper: string[];
  spared: string[];
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
  value: any;
  text: string;
  unit?: string;
  answered?: boolean;
  formula?: string;
  sum?: string;
  source?: string;
  standing?: string;
}

/** A range as text, in the units of the reader. */
type IntervalWriter = (range: Interval, unit: string) => string;

/** `/lamp-table.json`. */
interface LampTable {
  plugs: Record<string, { commands: string[]; lamps: string[] }>;
  answers: string[];
  rows: string[];
  codes: Record<string, number[]>;
  systems: Record<string, { sound: number; faults: LampFault[] }>;
}
/** What it is, how likely, which others look the same, and its rows. */
type LampFault = [fault: string, prior: number, group: number, rows: number[]];
type LampAnswer = [command: string, lamp: string, answer: string];

/** One reading in time: when, and from least to most. */
type Reading = [at: number, low: number, high: number];

// ---- what the phone keeps ----

/** What a person typed, by the answer's key, as it is shown again. */
type Typed = Record<string, string>;

/** A check that is begun. `rev` counts its stored versions; `known` and `skipped` are keys. */
interface Draft {
  id: string;
  check: string;
  trailer: string | null;
  date: string;
  started?: string;
  facts: Answers;
  typed?: Typed;
  aside?: Answers;
  skipped?: string[];
  known?: string[];
  link?: string;
  due?: string;
  rev?: number;
  rulebook?: string;
  byPlace?: boolean;
  begun?: { key: string; text: string; unit?: string };
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
type AnyRecord = CheckRecord | TrailerRecord | WorkRecord;

/** A record in the store, with what this phone knows about it besides. */
interface KeptRecord {
  id: string;
  record: AnyRecord;
  hash: string;
  sent?: string;
  draft?: string;
  words?: string;
  link?: string;
  due?: string;
  of?: string;
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
/** A shop's link as the phone keeps it. */
interface KeptLink {
  id: string;
  secret: string;
  made: string;
  kind?: string;
  pressed?: boolean;
  told?: boolean;
  dead?: string | null;
  died?: number;
  read?: string;
  due?: Due[];
  done?: Record<string, string>;
}

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
/** `[kind, value]` puts, `[kind, null, key]` removes. */
type Change = { [K in Kind]: [kind: K, value: Kinds[K]] | [kind: K, value: null, key: string] }[Kind];
interface StoreOf {
  all<K extends Kind>(kind: K): Promise<Kinds[K][]>;
  get<K extends Kind>(kind: K, key: string): Promise<Kinds[K] | undefined>;
  commit(changes: Change[], needs?: [Kind, string] | null): Promise<void>;
  change<K extends Kind>(
    kind: K,
    key: string,
    make: (stored: Kinds[K] | undefined) => Kinds[K] | undefined,
  ): Promise<Kinds[K] | undefined>;
}

// ---- words ----

type Piece = string | { value: string } | { select: string; cases: Record<string, Sentence> };
type Sentence = string | Piece[];
type WordValues = Record<string, string | number>;
/** `/words.LANGUAGE.json`. */
interface WordsFile {
  language: string;
  say: Record<string, Sentence>;
  hash?: string;
  whole?: string;
}

// ---- sending ----

interface ReplyBody {
  id?: string;
  hash?: string;
  clock?: number;
  message?: string;
  description?: string;
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
