import { fitsVariant } from '../applies.ts';
import type { Counts } from '../countState.ts';
import type { Stamped } from '../decision.ts';
import { emptyLedger } from '../ledger.ts';
import type { PlannedSpecimen, Sheet } from '../sheet.ts';
import type { Case, Specimen } from '../state.ts';
import type { Opened } from './events.ts';

const noCounts: Counts = {
  first: 'open',
  running: undefined,
  broken: undefined,
  done: {},
  history: [],
  uncounted: {},
  reliefDue: [],
  reliefs: [],
  isLate: false,
  amendments: [],
  findings: [],
  setAside: [],
  waivers: [],
};

/** The case as it is opened. */
export function openedCase(event: Stamped<Opened>): Case {
  const { sheet, variants } = event;
  const planned = sheet.specimens.filter(
    (one) => one.planned && fitsVariant({ variants }, one.when),
  );
  return {
    id: event.caseId,
    sheet,
    patient: event.patient,
    practice: event.practice,
    team: event.team,
    variants,
    startedAt: event.at,
    entry: event.entry,
    lastAt: event.at,
    openedId: event.id,
    lines: new Map(sheet.lines.map((line) => [line.id, line])),
    ledger: emptyLedger(
      sheet.lines.map((line) => line.id),
      sheet.sites.map((site) => site.id),
    ),
    log: undefined,
    incisionAt: undefined,
    counts: noCounts,
    agedEntry: 0,
    differing: {},
    settled: [],
    fragments: [],
    left: {},
    missing: [],
    away: [],
    carried: [],
    scanned: [],
    xrays: [],
    deferral: undefined,
    checkpoints: {},
    specimens: Object.fromEntries(planned.map((one) => [one.id, plannedSpecimen(sheet, one)])),
    closures: {},
    looks: {},
    handovers: {},
    doses: [],
    weighed: [],
    fluids: [],
    notes: [],
    finishedAt: undefined,
  };
}

/** A specimen of the sheet, not yet taken. */
export function plannedSpecimen(sheet: Sheet, one: PlannedSpecimen): Specimen {
  const { id, letter, name, site, side, test, media } = one;
  const siteWords = one.siteWords ?? sheet.sites.find((known) => known.id === site)?.name ?? site;
  return {
    id,
    letter,
    name,
    site,
    siteWords,
    side,
    test,
    media,
    bagWanted: one.bag,
    stage: 'planned',
  };
}
