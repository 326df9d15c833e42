import { inSite, type Place } from '#engine/places.ts';
import type { Line, Sheet, Turn } from '#engine/sheet.ts';
import { type Finding, findingOf, linePath, type Played } from './finding.ts';
import { toEnd } from './finish.ts';
import { inside, onTable } from './having.ts';
import { type Acted, act, type Play } from './play.ts';

/** Whether every turn can be made somewhere, and a case comes to its end after it. */
export function turnFindings(sheet: Sheet, { open, chosen }: Played): readonly Finding[] {
  return sheet.lines.flatMap((line) =>
    line.turns.flatMap((turn) => {
      const tried = placesOf(sheet, turn).map((place) => turned(open, line, turn, place));
      const made = tried.filter((one) => one.ok);
      const [refused] = tried.filter((one) => !one.ok);
      if (made.length === 0 && refused) return [neverMade(sheet, { line, turn, open, refused })];
      return made.flatMap(({ play }) => {
        const finished = toEnd(play, {});
        return finished.ok ? [] : [findingOf(sheet, finished, chosen)];
      });
    }),
  );
}

function placesOf(sheet: Sheet, { at }: Turn): readonly Place[] {
  const inside = sheet.sites.map(({ id }) => inSite(id));
  if (at === 'table') return ['table'];
  return at === 'patient' ? inside : ['table', ...inside];
}

function turned(play: Play, line: Line, turn: Turn, place: Place): Acted {
  const ready = place === 'table' ? onTable(play, line) : inside(play, line, siteIn(place));
  if (!ready.ok) return ready;
  const into = turn.asks === undefined ? {} : { into: 2 };
  const said = turn.asks === undefined ? '' : ', into: 2';
  const words = `turn: { line: ${line.id}, turn: ${turn.id}, at: ${place}, n: 1${said} }`;
  const command = { type: 'turn', line: line.id, turn: turn.id, at: place, n: 1, ...into } as const;
  return act(ready.play, command, words);
}

const siteIn = (place: Place): string => place.replace('patient/', '');

type Never = {
  readonly line: Line;
  readonly turn: Turn;
  readonly open: Play;
  readonly refused: Extract<Acted, { readonly ok: false }>;
};

const neverMade = (sheet: Sheet, { line, turn, open, refused }: Never): Finding => ({
  code: 'contradiction',
  path: [...linePath(sheet, line.id), 'turns', turn.id],
  found: `refused wherever the piece is (${refused.refusal.sentence.replace(/\.$/, '')})`,
  expected: 'something that can be done',
  way: open.way,
});
