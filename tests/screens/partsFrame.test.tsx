import { cleanup, fireEvent, render, screen, within } from '@solidjs/testing-library';
import { createSignal, For } from 'solid-js';
import { afterEach, expect, test, vi } from 'vitest';
import { Beads } from '#parts/Beads.tsx';
import { Foot } from '#parts/Foot.tsx';
import { Frame } from '#parts/Frame.tsx';
import type { IndexEntry } from '#parts/FrameIndex.tsx';
import type { StretchView } from '#parts/Stretch.tsx';
import { Wire } from '#parts/Wire.tsx';
import { WireActions } from '#parts/WireActions.tsx';
import { WireGroup } from '#parts/WireGroup.tsx';

const onTable = (pieces: number, onTap?: () => void): StretchView => ({
  place: 'table',
  placeWords: 'on the table',
  tone: 'table',
  pieces,
  does: 'Moves one into the patient',
  onTap,
});
const inside = (pieces: number, onTap?: () => void): StretchView => ({
  place: 'patient/abdomen',
  placeWords: 'in the abdomen',
  tone: 'inside',
  pieces,
  does: 'Takes one out',
  onTap,
});

const beadsOf = (pieces: number) => {
  const { container } = render(() => <Beads pieces={pieces} tone="table" />);
  const groups = [...container.querySelectorAll('.five')].map((five) => five.children.length);
  const rods = container.querySelectorAll('.rod').length;
  return { groups, rods, beads: container.querySelectorAll('.bead').length };
};

afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

test('a stretch says line, place and number, and a tap asks to move one', () => {
  const tapped = vi.fn();
  render(() => <Wire id="swab" name="Swab 10 × 10" stretches={[onTable(8, tapped), inside(2)]} />);
  const table = screen.getByRole('button', {
    name: 'Swab 10 × 10, on the table: 8. Moves one into the patient',
  });
  expect(table.textContent).toBe('8');
  expect(table.getAttribute('data-place')).toBe('table');
  fireEvent.click(table);
  fireEvent.click(table);
  expect(tapped).toHaveBeenCalledTimes(2);
});

test('a stretch that only shows says so and does nothing', () => {
  render(() => <Wire id="tail" name="Tie tail" stretches={[inside(0)]} />);
  const empty = screen.getByRole('button', { name: 'Tie tail, in the abdomen: 0' });
  expect(empty.getAttribute('aria-disabled')).toBe('true');
  expect(empty.getAttribute('data-empty')).toBe('yes');
  fireEvent.click(empty);
});

test('a tap changes the number and keeps the element and its focus', () => {
  const [pieces, setPieces] = createSignal(3);
  render(() => (
    <Wire
      id="swab"
      name="Swab"
      stretches={[onTable(pieces(), () => setPieces(pieces() - 1)), inside(3 - pieces())]}
    />
  ));
  const before = screen.getByRole('button', { name: /on the table: 3/ });
  before.focus();
  fireEvent.click(before);
  const after = screen.getByRole('button', { name: /on the table: 2/ });
  expect(after).toBe(before);
  expect(document.activeElement).toBe(before);
  expect(screen.getByRole('button', { name: /in the abdomen: 1/ })).toBeTruthy();
});

test('pieces are beads in fives up to 20', () => {
  expect(beadsOf(0)).toEqual({ groups: [], rods: 0, beads: 0 });
  expect(beadsOf(5)).toEqual({ groups: [5], rods: 0, beads: 5 });
  expect(beadsOf(12)).toEqual({ groups: [5, 5, 2], rods: 0, beads: 12 });
  expect(beadsOf(20)).toEqual({ groups: [5, 5, 5, 5], rods: 0, beads: 20 });
});

test('above 20 a rod stands for five, and above 100 the number stands alone', () => {
  expect(beadsOf(44)).toEqual({ groups: [12], rods: 8, beads: 4 });
  expect(beadsOf(100)).toEqual({ groups: [20], rods: 20, beads: 0 });
  expect(beadsOf(101)).toEqual({ groups: [], rods: 0, beads: 0 });
});

test('rods and loose beads together make the number', () => {
  for (let pieces = 0; pieces <= 100; pieces += 1) {
    const { rods, beads } = beadsOf(pieces);
    expect(rods * 5 + beads).toBe(pieces);
  }
});

test('a wire is marked while something of its line is in the patient', () => {
  const [pieces, setPieces] = createSignal(1);
  render(() => <Wire id="bag" name="Bag" stretches={[inside(pieces())]} />);
  const wire = screen.getByRole('listitem', { name: 'Bag' });
  expect(wire.getAttribute('data-marked')).toBe('yes');
  setPieces(0);
  expect(wire.getAttribute('data-marked')).toBe('no');
});

test('the name of a wire is a button only where there is more to do', () => {
  const selected = vi.fn();
  render(() => (
    <ul>
      <Wire
        id="loop"
        name="Loop"
        detail="with pusher"
        stretches={[]}
        onSelect={selected}
        isSelected
      />
      <Wire id="swab" name="Swab" stretches={[]} />
    </ul>
  ));
  const name = screen.getByRole('button', { name: /Loop.*more actions/ });
  expect(name.getAttribute('aria-pressed')).toBe('true');
  fireEvent.click(name);
  expect(selected).toHaveBeenCalledOnce();
  expect(screen.queryByRole('button', { name: /Swab/ })).toBeNull();
});

test('the parts of a port stand under its name', () => {
  render(() => (
    <Frame
      heading="All lines"
      places={[{ id: 'table', label: 'On the table', tone: 'table' }]}
      index={[]}
      lines={['cannula', 'seal']}
    >
      <WireGroup name="Port 12 mm" detail="comes apart into 2">
        <For each={['cannula', 'seal']}>
          {(id) => <Wire id={id} name={id} isPart stretches={[onTable(1)]} />}
        </For>
      </WireGroup>
    </Frame>
  ));
  const group = screen.getByRole('list', { name: 'Port 12 mm' });
  expect(within(group).getAllByRole('listitem')).toHaveLength(2);
  expect(screen.getByRole('region', { name: 'Counting frame' }).dataset.columns).toBe('1');
});

const rect = (top: number, bottom: number): DOMRect => new DOMRect(0, top, 100, bottom - top);

/** A list of five wires of 78 in a room of 160: the first lies above it, and two below. */
function fiveWires(...index: readonly IndexEntry[]) {
  const tops: Readonly<Record<string, number>> = { a: -60, b: 10, c: 90, d: 170, e: 250 };
  vi.spyOn(Element.prototype, 'getBoundingClientRect').mockImplementation(function of(
    this: Element,
  ) {
    if (this.hasAttribute('data-head')) return rect(0, 0);
    const top = tops[this.getAttribute('data-line') ?? ''];
    return top === undefined ? rect(0, 160) : rect(top, top + 78);
  });
  vi.spyOn(Element.prototype, 'scrollHeight', 'get').mockReturnValue(390);
  vi.spyOn(HTMLElement.prototype, 'clientHeight', 'get').mockReturnValue(160);
  const { container } = render(() => (
    <Frame
      heading="Lines"
      places={[{ id: 'i', label: 'In the patient', tone: 'inside' }]}
      index={index}
      lines={Object.keys(tops)}
    >
      <For each={Object.keys(tops)}>
        {(id) => <Wire id={id} name={id} stretches={[inside(id === 'e' ? 2 : 0)]} />}
      </For>
    </Frame>
  ));
  const view = container.querySelector('.scroller-view');
  if (!view) throw new Error('The frame has no view.');
  return view;
}

const swabs = { name: 'Swabs', lines: ['a', 'b'] };
const ports = { name: 'Ports', lines: ['c', 'd', 'e'] };
const clips = { name: 'Clips', lines: ['x'] };

test('a key of the frame says what of it is in sight, and that pieces are in the patient out of sight', async () => {
  fiveWires(swabs, ports, clips);
  const seen = await screen.findByRole('button', { name: 'Swabs' });
  const unseen = screen.getByRole('button', { name: 'Ports: pieces in the patient, not in sight' });
  const notOpened = screen.getByRole('button', { name: 'Clips' });
  const all = [seen, unseen, notOpened];
  expect(all.map((key) => key.dataset.seen)).toEqual(['yes', 'no', 'no']);
  expect(all.map((key) => key.getAttribute('aria-disabled'))).toEqual([null, null, 'true']);
});

test('one tap brings the first line of a key to the top, wherever it lies', async () => {
  const view = fiveWires(swabs, ports, clips);
  fireEvent.click(await screen.findByRole('button', { name: /^Ports/ }));
  expect(view.scrollTop).toBe(90);
  view.scrollTop = 100;
  fireEvent.click(screen.getByRole('button', { name: 'Swabs' }));
  expect(view.scrollTop).toBe(40);
  fireEvent.click(screen.getByRole('button', { name: 'Clips' }));
  expect(view.scrollTop).toBe(40);
});

test('a key with more lines than the room turns on through them, to whole lines', async () => {
  const view = fiveWires({ name: 'All', lines: ['a', 'b', 'c', 'd', 'e'] });
  const key = await screen.findByRole('button', { name: /^All/ });
  expect(key.querySelector('.scroller-arrow')).not.toBeNull();
  fireEvent.click(key);
  // In a room of 160 three wires begin: the last of them that was seen leads the next page.
  expect(view.scrollTop).toBe(90);
});

test('a list that fits has no keys', () => {
  render(() => (
    <Frame
      heading="Lines"
      places={[{ id: 'i', label: 'In the patient', tone: 'inside' }]}
      index={[{ name: 'Swabs', lines: ['a'] }]}
      lines={['a']}
    >
      <Wire id="a" name="a" stretches={[inside(0)]} />
    </Frame>
  ));
  expect(screen.queryByRole('button', { name: 'Swabs' })).toBeNull();
});

test('a list of which lines are left out keeps its keys where it fits: one of them brings the others back', () => {
  render(() => (
    <Frame
      heading="Only what is inside"
      places={[{ id: 'i', label: 'In the patient', tone: 'inside' }]}
      index={[{ name: 'Swabs', lines: ['a'] }]}
      lines={['a']}
      isPartial
      keys={<button type="button">All lines</button>}
    >
      <Wire id="a" name="a" stretches={[inside(1)]} />
    </Frame>
  ));
  expect(screen.getByRole('button', { name: 'All lines' })).toBeTruthy();
});

test('with more than one site the head of a column says where pieces go, and a tap changes it', () => {
  const chosen = vi.fn();
  render(() => (
    <Frame
      heading="Lines"
      places={[
        { id: 'a', label: 'In: abdomen', tone: 'inside', isTarget: true, onTarget: vi.fn() },
        { id: 'u', label: 'In: uterus', tone: 'inside', isTarget: false, onTarget: chosen },
      ]}
      index={[]}
      lines={['a']}
    >
      <Wire id="a" name="a" stretches={[]} />
    </Frame>
  ));
  const abdomen = screen.getByRole('button', { name: /In: abdomen/ });
  expect(abdomen.getAttribute('aria-pressed')).toBe('true');
  expect(abdomen.textContent).toContain('pieces go here');
  fireEvent.click(screen.getByRole('button', { name: /In: uterus/ }));
  expect(chosen).toHaveBeenCalledOnce();
});

test('a set of parts goes in with one tap', () => {
  const moved = vi.fn();
  render(() => (
    <WireGroup
      name="Port 5 mm"
      sets={[{ label: 'One set in', column: 2, does: 'Moves cannula, seal', onMove: moved }]}
    >
      <Wire id="cannula" name="cannula" isPart stretches={[onTable(1)]} />
    </WireGroup>
  ));
  fireEvent.click(
    screen.getByRole('button', { name: 'Port 5 mm, One set in. Moves cannula, seal' }),
  );
  expect(moved).toHaveBeenCalledOnce();
});

test('the acts of a wire stand under the last entry, and the usual buttons stay', () => {
  const placed = vi.fn();
  const more = vi.fn();
  const [isOpen, setOpen] = createSignal(true);
  const actions = [
    { id: 'placed', label: 'Placed', detail: 'on the base', onDo: placed },
    { id: 'stays', label: 'Stays', whyNot: 'It may not stay.', onDo: placed },
  ];
  const hand = () =>
    isOpen() ? <WireActions name="Loop" actions={actions} onMore={more} /> : null;
  const { container } = render(() => (
    <Foot
      last={{ entry: 48, at: '14:31:52', subject: 'Loop', rest: 'placed' }}
      back={<button type="button">Take back</button>}
      hand={hand()}
    >
      <button type="button">Add to field</button>
    </Foot>
  ));
  fireEvent.click(screen.getByRole('button', { name: /Placed/ }));
  fireEvent.click(screen.getByRole('button', { name: /Stays/ }));
  expect(placed).toHaveBeenCalledOnce();
  fireEvent.click(screen.getByRole('button', { name: 'Other acts for Loop' }));
  expect(more).toHaveBeenCalledOnce();
  expect(screen.getByRole('button', { name: 'Add to field' })).toBeTruthy();
  expect(screen.getByRole('status').textContent).toContain('14:31:52Loop placed');
  setOpen(false);
  expect(container.querySelector('.foot')?.getAttribute('data-hand')).toBe('no');
  expect(screen.queryByRole('button', { name: /Placed/ })).toBeNull();
  expect(screen.getByRole('status').textContent).toContain('14:31:52Loop placed');
});

test('the take-back of the foot is made once', () => {
  const made = vi.fn();
  const Back = () => {
    made();
    return <button type="button">Take back</button>;
  };
  render(() => <Foot back={<Back />}>{''}</Foot>);
  expect(screen.getAllByRole('button', { name: 'Take back' })).toHaveLength(1);
  expect(made).toHaveBeenCalledOnce();
});
