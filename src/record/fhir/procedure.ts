import type { BundleEntry, Device, Flag, Procedure } from 'fhir/r4';
import { verdictOf } from '#engine/closures/verdictOf.ts';
import { verdictWords } from '#engine/closures/verdictWords.ts';
import { mustComeOut } from '#engine/moves/mustComeOut.ts';
import type { LeftPieces } from '#engine/state.ts';
import { lineFactsOf } from '../lineFacts.ts';
import { concept, entry, instant, type Making, said, some } from './parts.ts';
import { systems } from './systems.ts';

/** The operation: who did it, what was opened for it, and what was left. */
export function procedureOf(making: Making): BundleEntry {
  const { current, urn } = making;
  const { team, sheet } = current;
  const variants = sheet.variants
    .filter((one) => Object.values(current.variants).includes(one.id))
    .map((one) => one.name);
  const resource: Procedure = {
    resourceType: 'Procedure',
    status: current.finishedAt ? 'completed' : current.incisionAt ? 'in-progress' : 'preparation',
    code: concept([sheet.title, ...variants].join(', ')),
    subject: making.patient,
    encounter: making.encounter,
    performedPeriod: {
      start: instant(current.incisionAt ?? current.startedAt),
      ...(current.finishedAt ? { end: instant(current.finishedAt) } : {}),
    },
    performer: Object.entries(team).map(([role, name]) => ({
      function: concept(role),
      actor: making.person(name),
    })),
    outcome: concept(verdictWords[verdictOf(current)]),
    focalDevice: some(
      leftIn(making).map(({ name }) => ({
        action: { coding: [{ system: systems.deviceAction, code: 'implanted' }] },
        manipulated: making.to('Device', name),
      })),
    ),
    usedCode: some(
      lineFactsOf(current)
        .filter(({ inAll }) => inAll !== undefined && inAll > 0)
        .map(({ name, inAll }) => concept(`${inAll} × ${name}`)),
    ),
  };
  return entry(urn('Procedure'), resource);
}

type Left = { readonly name: string; readonly line: string; readonly set: LeftPieces };

/** Everything that was left on purpose, with a name of its own. */
const leftIn = ({ current }: Making): readonly Left[] =>
  Object.entries(current.left).flatMap(([line, sets]) =>
    sets.map((set, place) => ({ name: `${line}/${place}`, line, set })),
  );

/** One device for each thing that was left. A lot that was scanned is said as it was scanned. */
export function devicesOf(making: Making): readonly BundleEntry[] {
  return leftIn(making).map(({ name, line, set }) => {
    const words = making.current.lines.get(line)?.name ?? line;
    const why = [
      set.reason,
      set.where,
      set.decidedBy && `decided by ${set.decidedBy.join(' and ')}`,
    ];
    const notes = why.filter((one) => one !== undefined && one.trim() !== '').map(String);
    const resource: Device = {
      resourceType: 'Device',
      status: 'active',
      deviceName: [{ name: said(`${set.n} × ${words}`), type: 'user-friendly-name' }],
      ...(set.lot?.trim() ? carrierOf(set.lot) : {}),
      patient: making.patient,
      note: some(notes.map((text) => ({ text: said(text) }))),
    };
    return entry(making.urn('Device', name), resource);
  });
}

/** What the words of a lot hold: those of a scanned pack have its code in them, (01)… (10)… */
function carrierOf(lot: string): Partial<Device> {
  const elements = new Map(
    [...lot.matchAll(/\((\d{2,4})\)([^ ]+)/g)].map((one) => [one[1] ?? '', one[2] ?? '']),
  );
  const deviceIdentifier = elements.get('01');
  if (deviceIdentifier === undefined) return { lotNumber: said(lot) };
  const serial = elements.get('21');
  const expires = /expires (\d{4}-\d{2}-\d{2})(?!\d)/.exec(lot)?.[1];
  const human = lot.slice(lot.indexOf('('));
  const carrier = { deviceIdentifier, issuer: systems.gs1, carrierHRF: human } as const;
  return {
    udiCarrier: [{ ...carrier, entryType: 'barcode' }],
    lotNumber: elements.get('10') ?? said(lot),
    ...(serial === undefined ? {} : { serialNumber: serial }),
    ...(expires === undefined ? {} : { expirationDate: expires }),
  };
}

/** What must come out again is a warning for whoever looks after the patient next. */
export function flagsOf(making: Making): readonly BundleEntry[] {
  const { current } = making;
  return leftIn(making)
    .filter(({ line }) => mustComeOut(current.lines.get(line)))
    .map(({ name, line, set }) => {
      const plan = current.handovers[line]?.plan ?? 'no plan was recorded';
      const words = `${set.n} × ${current.lines.get(line)?.name ?? line} must come out: ${plan}`;
      const resource: Flag = {
        resourceType: 'Flag',
        status: 'active',
        code: concept(words),
        subject: making.patient,
        encounter: making.encounter,
        period: { start: instant(set.at) },
        author: making.person(current.team.surgeon),
      };
      return entry(making.urn('Flag', name), resource);
    });
}
