/** The same rows in React, as it is usually written: a reducer, remembered rows, portals for holds and foot. */
import {
  createElement as h,
  memo,
  type ReactNode,
  useCallback,
  useLayoutEffect,
  useReducer,
} from 'react';
import { createPortal, flushSync } from 'react-dom';
import { createRoot } from 'react-dom/client';
import {
  goesTo,
  inside,
  insideWords,
  labelOf,
  moved,
  openEntries,
  type Place,
  places,
  type Row,
  rowsIn,
  show,
  tones,
} from './entries.ts';

type Last = { readonly entry: number; readonly row: Row; readonly to: Place };
type Shown = { readonly rows: readonly Row[]; readonly last: Last | undefined };
type Said = {
  readonly id: string;
  readonly from: Place;
  readonly to: Place;
  readonly entry: number;
};
type Tap = (row: Row, from: Place, to: Place) => void;

function reduce({ rows }: Shown, { id, from, to, entry }: Said): Shown {
  const next = rows.map((row) => (row.id === id ? moved(row, from, to) : row));
  const row = next.find((one) => one.id === id);
  return { rows: next, last: row && { entry, row, to } };
}

const Stretch = memo((props: { readonly row: Row; readonly place: Place; readonly onTap: Tap }) => {
  const { row, place, onTap } = props;
  const pieces = row.at[place];
  const to = goesTo(place);
  const isLive = pieces > 0 && to !== undefined;
  const beads = Array.from({ length: pieces }, (_, at) =>
    h('span', { key: at, className: 'bead' }),
  );
  return h(
    'button',
    {
      type: 'button',
      className: 'stretch',
      'data-place': place,
      'data-tone': tones[place],
      'data-rows': 'one',
      'data-empty': pieces === 0 ? 'yes' : 'no',
      'data-live': isLive ? 'yes' : 'no',
      'aria-disabled': isLive ? undefined : 'true',
      'aria-label': labelOf(row, place),
      onClick: () => isLive && onTap(row, place, to),
    },
    h('span', { className: 'stretch-number digits-type', 'data-digits': 1 }, pieces),
    h(
      'span',
      { className: 'beads', 'data-tone': tones[place], 'data-size': 'large', 'data-rows': 'one' },
      pieces > 0 ? h('span', { className: 'five' }, beads) : null,
    ),
  );
});

const Wire = memo((props: { readonly row: Row; readonly onTap: Tap }) => {
  const { row, onTap } = props;
  const name = h(
    'button',
    { type: 'button', className: 'wire-name', 'aria-label': `${row.name}, more actions` },
    h('span', { className: 'wire-words' }, h('span', { className: 'wire-title' }, row.name)),
  );
  return h(
    'li',
    {
      className: 'wire',
      'data-item': '',
      'data-line': row.id,
      'data-marked': row.at[inside] > 0 ? 'yes' : 'no',
      'data-selected': 'no',
      'data-part': 'no',
    },
    name,
    places.map((place) => h(Stretch, { key: place, row, place, onTap })),
  );
});

function Holds({ rows }: { readonly rows: readonly Row[] }): ReactNode {
  const { title, detail } = insideWords(rows);
  const card = (code: string, words: string, second: string) =>
    h(
      'li',
      { key: code, className: 'hold', 'data-code': code, 'data-tone': 'missing' },
      h(
        'button',
        { type: 'button', className: 'hold-face' },
        h('span', { className: 'hold-bar' }),
        h(
          'span',
          { className: 'hold-words' },
          h('span', { className: 'hold-title' }, words),
          h('span', { className: 'hold-detail' }, second),
        ),
      ),
    );
  const due = card('count-due', 'Count due', 'scrub and circulator');
  return detail === '' ? [due] : [card('piece-inside', title, `${detail} · scrub`), due];
}

function Foot({ last }: { readonly last: Last | undefined }): ReactNode {
  if (!last) return null;
  const where = last.to === 'table' ? 'the table' : 'the patient';
  return [
    h(
      'span',
      { key: 'at', className: 'foot-at digits-type' },
      new Date().toISOString().slice(11, 19),
    ),
    h(
      'span',
      { key: 'words', className: 'foot-words' },
      h('strong', null, last.row.name),
      ` 1 to ${where}`,
    ),
  ];
}

async function mount(html: string): Promise<void> {
  const { wires, holds, foot } = show(html);
  const write = await openEntries();
  const rows = rowsIn(wires);
  for (const part of [wires, holds, foot]) part.replaceChildren();
  function App(): ReactNode {
    const [shown, said] = useReducer(reduce, { rows, last: undefined });
    const tap = useCallback<Tap>((row, from, to) => {
      void write(row, from, to).then((entry) => said({ id: row.id, from, to, entry }));
    }, []);
    // The paragraph is the copied screen's own; React fills it.
    useLayoutEffect(() => {
      if (shown.last) foot.setAttribute('data-entry', String(shown.last.entry));
    }, [shown.last]);
    return [
      ...shown.rows.map((row) => h(Wire, { key: row.id, row, onTap: tap })),
      createPortal(h(Holds, { rows: shown.rows }), holds),
      createPortal(h(Foot, { last: shown.last }), foot),
    ];
  }
  flushSync(() => createRoot(wires).render(h(App)));
}

Object.assign(window, { mount });
