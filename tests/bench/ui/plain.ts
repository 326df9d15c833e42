/** The rows in plain DOM, written by hand: one listener, and only what changed is touched. */
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
} from './entries.ts';

async function mount(html: string): Promise<void> {
  const { wires, holds, foot } = show(html);
  const write = await openEntries();
  const rows = new Map(rowsIn(wires).map((row) => [row.id, row]));

  async function tap(wire: Element, from: Place, to: Place): Promise<void> {
    const id = wire.getAttribute('data-line') ?? '';
    const before = rows.get(id);
    if (!before) return;
    const entry = await write(before, from, to);
    const row = moved(rows.get(id) ?? before, from, to);
    rows.set(id, row);
    for (const place of [from, to]) draw(wire, row, place);
    set(wire, 'data-marked', row.at[inside] > 0 ? 'yes' : 'no');
    drawHolds(holds, [...rows.values()]);
    drawFoot(foot, row, { entry, to });
  }

  wires.addEventListener('click', ({ target }) => {
    const stretch = target instanceof Element ? target.closest('.stretch') : null;
    const wire = stretch?.closest('.wire');
    const from = places.find((place) => place === stretch?.getAttribute('data-place'));
    const to = from && goesTo(from);
    if (wire && to && from && stretch?.getAttribute('data-live') === 'yes')
      void tap(wire, from, to);
  });
}

function set(element: Element, name: string, value: string): void {
  if (element.getAttribute(name) !== value) element.setAttribute(name, value);
}

function draw(wire: Element, row: Row, place: Place): void {
  const stretch = wire.querySelector(`[data-place="${place}"]`);
  const number = stretch?.querySelector('.stretch-number');
  const five = stretch?.querySelector('.beads');
  if (!stretch || !number || !five) return;
  const pieces = row.at[place];
  const isLive = pieces > 0;
  number.textContent = String(pieces);
  set(stretch, 'data-empty', pieces === 0 ? 'yes' : 'no');
  set(stretch, 'data-live', isLive ? 'yes' : 'no');
  if (isLive) stretch.removeAttribute('aria-disabled');
  else set(stretch, 'aria-disabled', 'true');
  set(stretch, 'aria-label', labelOf(row, place));
  drawBeads(five, pieces);
}

/** The bench never has more than five of a line in one place. */
function drawBeads(beads: Element, pieces: number): void {
  if (pieces > 0 && !beads.firstElementChild) {
    const five = document.createElement('span');
    five.className = 'five';
    beads.append(five);
  }
  const five = beads.firstElementChild;
  if (!five) return;
  while (five.childElementCount > pieces) five.lastElementChild?.remove();
  while (five.childElementCount < pieces) {
    const bead = document.createElement('span');
    bead.className = 'bead';
    five.append(bead);
  }
  if (pieces === 0) five.remove();
}

function drawHolds(holds: Element, rows: readonly Row[]): void {
  const { title, detail } = insideWords(rows);
  let card = holds.querySelector('[data-code="piece-inside"]');
  if (detail === '') {
    card?.remove();
    return;
  }
  if (!card) {
    const any = holds.querySelector('[data-code]');
    if (!any) return;
    card = document.createElement('li');
    card.className = 'hold';
    set(card, 'data-code', 'piece-inside');
    set(card, 'data-tone', 'missing');
    card.innerHTML = any.innerHTML;
    holds.prepend(card);
  }
  const titleLine = card.querySelector('.hold-title');
  const words = card.querySelector('.hold-words');
  if (!titleLine || !words) return;
  titleLine.textContent = title;
  let second = card.querySelector('.hold-detail');
  if (!second) {
    second = document.createElement('span');
    second.className = 'hold-detail';
    words.append(second);
  }
  second.textContent = `${detail} · scrub`;
}

function drawFoot(
  foot: Element,
  row: Row,
  { entry, to }: { readonly entry: number; readonly to: Place },
): void {
  const words = foot.querySelector('.foot-words');
  const time = foot.querySelector('.foot-at');
  if (!words || !time) return;
  set(foot, 'data-entry', String(entry));
  time.textContent = new Date().toISOString().slice(11, 19);
  words.textContent = `${row.name} 1 to ${to === 'table' ? 'the table' : 'the patient'}`;
}

Object.assign(window, { mount });
