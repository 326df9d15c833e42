/** What people do at a window, what else happens to it, and what its screen has to show meanwhile. */
import type { Command } from '#engine/case/events.ts';
import { oneSite } from '../sheets.ts';
import { foldRows, isSame, rowsOf } from './check.ts';
import type { Window } from './tablet.ts';
import { kill, killAll, type Opened, openWindow, say, type Theatre, track } from './theatre.ts';
import { as } from './time.ts';
import { tapOn } from './user.ts';

const opening = {
  sheet: oneSite,
  patient: { name: 'Testcase, Ash', number: 'TR-100', born: '1970-01-31', weightKg: 70 },
  team: { scrub: 'Testa', circulator: 'Prueba', surgeon: 'Ensayo', anaesthetist: 'Probe' },
} as const;

type At = { readonly theatre: Theatre; readonly one: Opened; readonly window: Window };

/** Something is asked of the window, in its name. */
function ask({ theatre, one }: At, work: () => Promise<unknown>, isEntry = false): void {
  track(theatre, one, as(one.owner, work), isEntry);
}

export const tap = (at: At, command: Command): void =>
  ask(at, () => at.window.session.send(command), true);

export function goToCase(at: At): void {
  const { caseId } = at.theatre;
  ask(at, () => at.window.session.go({ screen: 'case', caseId, view: { name: 'frame' } }));
}

/** A person at one window: begins the case, goes to it, saves again, or taps what comes next. */
export function act(theatre: Theatre, one: Opened, only?: 'save'): void {
  const { window } = one;
  if (window === undefined) return;
  const at = { theatre, one, window };
  const { session, state } = window;
  const { stage, current, notSaved, follows, cases } = state();
  const { chance } = theatre;
  if (stage === 'fault') say(theatre, `a fault: ${state().fault}`);
  if (stage !== 'ready') return;
  for (const { code } of state().reports) theatre.told.add(code);
  if (notSaved !== undefined) {
    actUnsaved(at, only);
    return;
  }
  theatre.caseId ||= cases[0]?.caseId ?? '';
  if (!current && theatre.caseId === '') {
    ask(at, () => session.begin(opening), true);
    if (chance() < 0.3) ask(at, () => session.begin(opening));
  } else if (!current) goToCase(at);
  else if (follows && chance() < 0.3) ask(at, () => session.takeOver());
  else actOn(at, tapOn(current, chance));
}

/** One tap, sometimes the same twice, sometimes another right behind it. */
function actOn(at: At, command: Command): void {
  const { chance } = at.theatre;
  tap(at, command);
  if (chance() < 0.15) tap(at, command);
  const { current } = at.window.state();
  if (current && chance() < 0.15) tap(at, tapOn(current, chance));
}

function actUnsaved(at: At, only?: 'save'): void {
  const { theatre, window, one } = at;
  const { session, state } = window;
  const { current } = state();
  const command = current && tapOn(current, theatre.chance);
  if (command && as(one.owner, () => session.canSend(command)))
    say(theatre, 'an unsaved entry held nothing');
  const what = theatre.chance();
  if (what < 0.7 || only) ask(at, () => session.retry(), true);
  else if (what < 0.8) ask(at, () => session.go({ screen: 'start' }));
  else if (command) tap(at, command);
}

const hourMs = 3_600_000;

/** Something else than a tap. */
export function upheave(theatre: Theatre): void {
  const { chance, opened, time } = theatre;
  const one = opened[Math.floor(chance() * opened.length)];
  const what = chance();
  if (what < 0.35 && one) kill(theatre, one.owner);
  else if (what < 0.5) killAll(theatre, chance() < 0.6);
  else if (what < 0.7 && one) {
    one.owner.isFrozen = !one.owner.isFrozen;
    one.thawedAt = time.now();
  } else if (what < 0.85)
    theatre.clockOffMs += [-hourMs, 24 * hourMs, hourMs / 2][Math.floor(chance() * 3)] ?? 0;
  else if (opened.length < theatre.plan.windows) openWindow(theatre);
}

/** A message has to be there by then, and a little. Units: milliseconds. */
const saidWithinMs = 1000 + 20;

/** Whoever waits for an entry for more than a second was told. */
export function lookAtWaiting(theatre: Theatre): void {
  for (const { one, since, isEntry } of theatre.outstanding) {
    const { owner, window, thawedAt } = one;
    const waitedMs = theatre.time.now() - Math.max(since, thawedAt);
    if (!isEntry || owner.isFrozen || owner.isDead || waitedMs < saidWithinMs) continue;
    if (window && window.state().notSaved === undefined)
      say(theatre, 'an entry waited for more than a second and nothing was said');
  }
}

/**
 * A screen shows what the rows of a home say, up to its last one. A window that was left with one home may have another
 * history than the other home, as it says; and a row that an earlier window wrote may wait to be flushed with the next.
 */
export function lookAtScreens(theatre: Theatre): void {
  const { database, files } = theatre.storage;
  for (const { window, owner } of theatre.opened) {
    const shown = window?.state();
    if (!shown?.current) continue;
    const { id } = shown.current;
    const both = [database.rowsOf(id), files.rowsNow(id)].map((texts) => rowsOf(texts, []));
    const rows = both.find((one) => one.some(({ hash }) => hash === shown.head)) ?? [];
    const at = rows.findIndex(({ hash }) => hash === shown.head);
    const folded = at === -1 ? undefined : foldRows(rows.slice(0, at + 1));
    if (!folded || !isSame(folded, shown.current))
      say(
        theatre,
        `${owner.name} shows what is not in the record (row ${at + 1} of ${rows.length})`,
      );
  }
}
