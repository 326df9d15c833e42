/** What each accepted entry does to the heap of pieces. */
import type { Command } from '#engine/case/events.ts';
import type { Found } from '#engine/countState.ts';
import {
  balanceOf,
  expectedOf,
  type Fact,
  gatesOf,
  insideOf,
  isExplained,
  isInside,
  isListedInUse,
  lengthsDiffer,
  nextGate,
  type Outcome,
  type Piece,
  personOf,
  piecesAt,
  placeOf,
  siteIn,
  type World,
} from './naiveWorld.ts';

/** Picks pieces up: those that came last, first. */
function take(world: World, line: string, place: string, n: number): Piece[] {
  const there = piecesAt(world, line, place);
  if (there.length < n) throw new Error(`${line}: ${there.length} at ${place}, not ${n}`);
  return there.slice(there.length - n);
}

/** Puts pieces down, on top of what lies there. */
function put(world: World, pieces: readonly Piece[], place: string): void {
  world.pieces = [...world.pieces.filter((piece) => !pieces.includes(piece)), ...pieces];
  for (const piece of pieces) {
    piece.place = place;
    if (place !== 'stays') delete piece.said;
    if (place !== 'missing') delete piece.why;
  }
}

function create(world: World, origin: Piece['origin'], line: string, place: string, n: number) {
  for (let i = 0; i < n; i++) world.pieces.push({ line, origin, place });
}

/** The counts are stale from here on, and one that is running must start again. */
const age = (world: World, fact: Fact): void => {
  world.aged = fact.entry;
  world.running = undefined;
};
const disturb = (world: World, fact: Fact): void => {
  world.insideChanged = fact.entry;
};

/** Packs that hold what a pack holds. The others are set aside whole. */
const soundPacks = (packs: readonly number[], size: number): number =>
  packs.filter((pack) => pack === size).length;

/** The site meant where none is named: the only one. */
const siteMeant = (world: World, site: string | undefined): string =>
  site ?? world.sheet.sites[0]?.id ?? '';

/** Opens the line of what a piece broke into. It keeps its name although the breaking is taken back. */
export function nameFragments(world: World, { command, fragment }: Fact): void {
  const line = command.type === 'break' ? world.lines.get(command.line) : undefined;
  if (!line || fragment === undefined) return;
  const { pack: _pack, lengthMm: _length, ...rest } = line;
  world.lines.set(fragment, {
    ...rest,
    id: fragment,
    stay: { may: 'no' },
    class: 'small',
    counted: true,
    opening: 0,
    brings: [],
    turns: [],
  });
}

function ledgerEntry(world: World, fact: Fact): void {
  const { command } = fact;
  switch (command.type) {
    case 'add': {
      const line = world.lines.get(command.line);
      const packs = line?.pack ? soundPacks(command.packs ?? [], line.pack) : 0;
      const n = line?.pack ? packs * line.pack : (command.n ?? 0);
      create(world, 'supply', command.line, 'table', n);
      for (const brought of line?.brings ?? []) {
        create(world, 'supply', brought.line, 'table', brought.n * (line?.pack ? packs : n));
      }
      if (n > 0) age(world, fact);
      return;
    }
    case 'move': {
      const from = placeOf(world.sheet, command.from) ?? '';
      const to = placeOf(world.sheet, command.to) ?? '';
      const moved = take(world, command.line, from, command.n);
      put(world, moved, to);
      if (to === 'stays') {
        const { reason, where, lot } = command;
        const site = isInside(from) ? siteIn(from) : undefined;
        for (const piece of moved) {
          piece.said = {
            ...(site && { site }),
            ...(reason && { reason }),
            ...(where && { where }),
            ...(lot && { lot }),
          };
        }
      }
      const takesOut =
        isInside(from) &&
        isListedInUse(world, command.line) &&
        (to === 'table' || to === 'off' || to === 'away');
      // What stays is in the patient too.
      const ends = [from, to];
      const isInPatient = ends.some((place) => isInside(place) || place === 'stays');
      if (isInPatient && !takesOut) {
        disturb(world, fact);
        age(world, fact);
      }
      return;
    }
    case 'turn': {
      const place = placeOf(world.sheet, command.at) ?? '';
      const turn = world.lines.get(command.line)?.turns.find((one) => one.id === command.turn);
      put(world, take(world, command.line, place, command.n), 'changed');
      for (const given of turn?.gives ?? []) {
        const each = given.n === 'asked' ? (command.into ?? 0) : given.n;
        const patient = isInside(place) ? place : `patient/${siteMeant(world, undefined)}`;
        const to =
          given.place === 'here' ? place : given.place === 'patient' ? patient : given.place;
        create(world, 'changed', given.line, to, each * command.n);
        if (to === 'stays' && isInside(place)) {
          for (const piece of piecesAt(world, given.line, 'stays')) {
            piece.said ??= { site: siteIn(place) };
          }
        }
        if (isInside(to)) disturb(world, fact);
      }
      if (isInside(place)) disturb(world, fact);
      age(world, fact);
      return;
    }
    case 'break': {
      const place = placeOf(world.sheet, command.at) ?? '';
      const line = world.lines.get(command.line);
      const name = fact.fragment ?? '';
      nameFragments(world, fact);
      const lengthMm = line?.lengthMm;
      put(world, take(world, command.line, place, 1), 'changed');
      create(world, 'changed', name, place, command.into);
      world.fragments.push({
        line: name,
        of: command.line,
        site: isInside(place) ? siteIn(place) : undefined,
        ...(command.lengths && { lengths: command.lengths }),
        ...(lengthMm !== undefined && { whole: lengthMm }),
        explained: false,
      });
      if (isInside(place)) disturb(world, fact);
      age(world, fact);
      return;
    }
    case 'carriedIn': {
      const place = `patient/${siteMeant(world, command.site)}`;
      create(world, 'supply', command.line, place, command.n);
      world.carried.push({ line: command.line, from: command.from, n: command.n });
      disturb(world, fact);
      age(world, fact);
      return;
    }
    case 'searchedNone': {
      const place = `patient/${siteMeant(world, command.site)}`;
      const gone = take(world, command.line, place, command.n);
      put(world, gone, 'missing');
      for (const piece of gone) piece.why = 'searched-none';
      disturb(world, fact);
      return;
    }
    case 'explain':
      explain(world, fact);
      return;
    default:
      return;
  }
}

/** Pieces that an explanation is about: those that stay unexplained, or else those inside. */
export function explainable(
  world: World,
  line: string,
  site: string | undefined,
): { readonly about: readonly Piece[]; readonly isInside: boolean } {
  const stays = piecesAt(world, line, 'stays');
  if (stays.some((piece) => !isExplained(world.lines.get(line), piece))) {
    const about = stays.filter((piece) => !isExplained(world.lines.get(line), piece));
    return { about, isInside: false };
  }
  const inside = world.pieces.filter((piece) => piece.line === line && isInside(piece.place));
  if (inside.length === 0) return { about: [], isInside: false };
  const about = inside.filter((piece) => !site || siteIn(piece.place) === site);
  return { about, isInside: true };
}

function explain(world: World, fact: Fact): void {
  const { command } = fact;
  if (command.type !== 'explain') return;
  const { about, isInside: leaves } = explainable(world, command.line, command.site);
  const lengths = world.fragments.filter(
    (one) => one.line === command.line && lengthsDiffer(one) && command.reason,
  );
  if (about.length === 0) {
    for (const one of lengths) one.explained = true;
    if (lengths.length > 0) return;
  }
  const again = about.length > 0 ? about : piecesAt(world, command.line, 'stays');
  const picked = leaves ? again.slice(0, fact.n ?? again.length) : again;
  for (const piece of picked) {
    const { reason, where, lot } = command;
    const site = leaves ? siteIn(piece.place) : undefined;
    const isOpen = leaves || !isExplained(world.lines.get(command.line), piece);
    if (leaves) put(world, [piece], 'stays');
    const by = (command.by ?? []).map((words) => personOf(world, words));
    piece.said = {
      ...piece.said,
      ...(site && { site }),
      ...(reason && { reason }),
      ...(where && { where }),
      ...(lot && { lot }),
      ...(isOpen && world.lines.get(command.line)?.stay.may === 'no' && { by }),
    };
  }
  if (leaves) {
    disturb(world, fact);
    age(world, fact);
  }
}

/** What was seen against what the ledger has: the facts that an agreed count or recount leaves. */
export function outcomesOf(
  world: World,
  seen: Iterable<readonly [string, Found]>,
): readonly Outcome[] {
  const outcomes: Outcome[] = [];
  for (const [line, found] of seen) {
    const expected = expectedOf(world, line);
    const agrees = found.field + found.off === expected;
    // The ledger follows the eyes between table and off, if what is inside can be among what was seen.
    const follows = agrees && found.field >= insideOf(world, line);
    const shift = follows ? found.off - balanceOf(world, line, 'off') : 0;
    outcomes.push({ line, found, expected, shift });
  }
  return outcomes;
}

function settle(world: World, fact: Fact): void {
  for (const { line, found, expected, shift } of fact.outcomes ?? []) {
    if (shift > 0) put(world, take(world, line, 'table', shift), 'off');
    if (shift < 0) put(world, take(world, line, 'off', -shift), 'table');
    const difference = found.field + found.off - expected;
    const trouble = world.troubles.get(line);
    if (difference === 0) {
      if (!trouble) continue;
      trouble.streak += 1;
      if (trouble.streak >= 2) world.troubles.delete(line);
    } else if (trouble) {
      trouble.stage = 'discrepancy';
      trouble.streak = 0;
      trouble.difference = difference;
      trouble.amended = 0;
    } else {
      world.troubles.set(line, {
        stage: 'recount',
        gate: gateOfLine(world, line),
        difference,
        amended: 0,
        streak: 0,
        entry: fact.entry,
        steps: new Set(),
      });
    }
  }
}

/** Only a total was said: the remainder is one wrong pack, short or over, and is set aside whole. */
function soundOf(seen: number, size: number, listed: number): number {
  const over = seen % size;
  if (over === 0) return seen;
  return seen < listed || seen < size ? seen - over : seen - over - size;
}

function countEntry(world: World, fact: Fact): void {
  const { command } = fact;
  const running = world.running;
  switch (command.type) {
    case 'beginCount':
      world.running = {
        moment: command.moment,
        scrub: personOf(world, command.scrub ?? 'scrub'),
        circulator: personOf(world, command.circulator ?? 'circulator'),
        lines: fact.countLines ?? [],
        found: new Map(),
        entry: fact.entry,
      };
      return;
    case 'enter': {
      const size = world.lines.get(command.line)?.pack;
      const isFirst = running?.moment === 'first';
      const total = command.packs?.reduce((sum, pack) => sum + pack, 0);
      const field = total ?? command.field ?? 0;
      const off = command.off ?? 0;
      const listed = world.lines.get(command.line)?.opening ?? 0;
      const sound =
        size === undefined || !isFirst
          ? field + off
          : command.packs
            ? soundPacks(command.packs, size) * size
            : soundOf(field + off, size, listed);
      const offSound = Math.min(off, sound);
      running?.found.set(
        command.line,
        isFirst ? { field: sound - offSound, off: offSound } : { field, off },
      );
      if (running && !running.lines.includes(command.line)) {
        running.lines = [...running.lines, command.line];
      }
      return;
    }
    case 'agree': {
      if (!running) return;
      world.running = undefined;
      if (running.moment === 'first') {
        world.first = 'agreed';
        for (const [line, found] of running.found) {
          create(world, 'supply', line, 'table', found.field);
          create(world, 'supply', line, 'off', found.off);
        }
      } else settle(world, fact);
      if (running.moment === 'relief') world.reliefDue.clear();
      world.done.set(running.moment, { entry: running.entry, waived: false });
      return;
    }
    case 'abandon':
      world.running = undefined;
      return;
    case 'recount':
      settle(world, fact);
      return;
    case 'relief':
      world.team[command.role] = command.to;
      if (command.short || (command.role !== 'scrub' && command.role !== 'circulator')) return;
      if (world.first !== 'open') world.reliefDue.add(command.role);
      age(world, fact);
      return;
    case 'waive':
      if (command.moment === 'first') {
        world.first = 'waived';
        for (const line of world.sheet.lines) {
          if (line.counted) create(world, 'supply', line.id, 'table', line.opening);
        }
      }
      world.done.set(command.moment, { entry: fact.entry, waived: true });
      world.owed.push({ since: fact.entry });
      world.running = undefined;
      if (command.moment === 'relief') world.reliefDue.clear();
      return;
    default:
      return;
  }
}

/** The gate that a line which differs holds first: of those not done, the first whose count covers the line. */
function gateOfLine(world: World, line: string): string {
  const class_ = world.lines.get(line)?.class;
  const covering = world.sheet.closures.filter(({ count }) => {
    const moment = world.sheet.moments.find((one) => one.id === count);
    return class_ !== undefined && (moment?.classes.includes(class_) ?? true);
  });
  return nextGate(
    world,
    covering.map((one) => one.id),
  );
}

/** Where a lost piece is taken from: named, or the only place that the ledger has it in. */
export function takenFrom(world: World, command: Command): string | undefined {
  if (command.type !== 'discrepancy' && command.type !== 'declare') return undefined;
  if (command.from !== undefined) return placeOf(world.sheet, command.from);
  const isGone = command.type === 'discrepancy' && !world.troubles.has(command.line);
  return isGone ? 'missing' : losable(world, command.line)[0];
}

/** Where the ledger may have a piece that was lost: everywhere that a count looks. */
export const losable = (world: World, line: string): readonly string[] => [
  ...new Set(
    world.pieces
      .filter((piece) => piece.line === line)
      .map((piece) => piece.place)
      .filter((place) => place === 'table' || place === 'off' || isInside(place)),
  ),
];

function find(world: World, fact: Fact): void {
  const { command } = fact;
  if (command.type !== 'discrepancy') return;
  const trouble = world.troubles.get(command.line);
  const place = placeOf(world.sheet, command.place ?? '') ?? '';
  const from = fact.from ?? '';
  // Of those that are missing, the ones that were missed first are found first.
  const missing = piecesAt(world, command.line, 'missing').slice(0, command.n ?? 1);
  put(world, from === 'missing' ? missing : take(world, command.line, from, command.n ?? 1), place);
  if (from !== place && (isInside(from) || isInside(place))) disturb(world, fact);
  if (trouble) trouble.streak = 0;
}

function discrepancyEntry(world: World, fact: Fact): void {
  const { command } = fact;
  switch (command.type) {
    case 'discrepancy': {
      const trouble = world.troubles.get(command.line);
      if (command.step === 'found') {
        find(world, fact);
        return;
      }
      if (command.step === 'xray' && !command.skip) {
        const wholeField = command.wholeField ?? false;
        world.readings.push({ entry: fact.entry, wholeField, line: command.line });
        // A film that does not show the whole field clears nothing.
        if (!wholeField) return;
      }
      trouble?.steps.add(command.step);
      return;
    }
    case 'declare': {
      const from = fact.from ?? '';
      const gone = take(world, command.line, from, command.n);
      put(world, gone, 'missing');
      for (const piece of gone) piece.why = 'declared';
      if (isInside(from)) disturb(world, fact);
      const trouble = world.troubles.get(command.line);
      if (!trouble) return;
      trouble.difference += command.n;
      trouble.streak = 0;
      if (trouble.difference < 0) return;
      world.owed.push({ since: trouble.entry, line: command.line });
      world.troubles.delete(command.line);
      return;
    }
    case 'amend': {
      create(world, 'supply', command.line, 'table', command.n);
      world.amended = true;
      const trouble = world.troubles.get(command.line);
      if (!trouble) return;
      trouble.amended += command.n;
      trouble.streak = 0;
      return;
    }
    case 'xray':
      world.readings.push({
        entry: fact.entry,
        wholeField: command.wholeField,
        ...(command.line && { line: command.line }),
      });
      return;
    case 'deferXray':
      world.deferred = true;
      return;
    default:
      return;
  }
}

function otherEntry(world: World, fact: Fact): void {
  const { command } = fact;
  switch (command.type) {
    case 'incision':
      world.incised = true;
      return;
    case 'beginCheckpoint':
      world.begun.add(command.id);
      return;
    case 'answer':
      world.answered.add(`${command.checkpoint}/${command.step}`);
      return;
    case 'finishCheckpoint':
      world.finished.add(command.id);
      if (command.id === 'sign-out') world.closed.add('sign-out');
      return;
    case 'look': {
      const before = world.looks.get(command.closure);
      const fresh = before && before.entry > world.insideChanged;
      const answers = new Map(fresh ? before.answers : []);
      for (const [step, answer] of Object.entries(command.answers)) {
        answers.set(step, String(answer));
      }
      world.looks.set(command.closure, { entry: fact.entry, answers });
      return;
    }
    case 'close':
      world.closed.add(command.closure);
      return;
    case 'reopen': {
      // What was closed after it is open again too, and is looked at again.
      const gates = gatesOf(world);
      for (const gate of gates.slice(gates.indexOf(command.closure))) {
        world.closed.delete(gate);
        world.looks.delete(gate);
      }
      world.finished.delete('sign-out');
      return;
    }
    case 'finish':
      world.ended = true;
      world.closed.add('sign-out');
      return;
    case 'handover':
      world.handed.set(
        command.line,
        world.pieces.filter(({ line, place }) => line === command.line && place === 'stays').length,
      );
      return;
    case 'specimen': {
      const specimen = world.specimens.get(command.id);
      if (!specimen) return;
      if (command.step === 'partLeft') specimen.part = true;
      else specimen.stage = command.step;
      if (command.step !== 'taken') return;
      specimen.whole = command.whole ?? false;
      for (const [line, n] of Object.entries(command.carries ?? {})) {
        put(world, take(world, line, `patient/${specimen.site}`, n), 'specimen');
        disturb(world, fact);
        age(world, fact);
      }
      return;
    }
    case 'correct':
      if (fact.corrects?.aged) age(world, fact);
      if (fact.corrects?.inside) disturb(world, fact);
      return;
    default:
      return;
  }
}

/** Lets one accepted entry happen. */
export function apply(world: World, fact: Fact): void {
  world.entry = fact.entry;
  ledgerEntry(world, fact);
  countEntry(world, fact);
  discrepancyEntry(world, fact);
  otherEntry(world, fact);
}
