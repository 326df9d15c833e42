import { cleanup, fireEvent, render, screen, within } from '@solidjs/testing-library';
import { createSignal, For } from 'solid-js';
import { afterEach, expect, test, vi } from 'vitest';
import { Beads } from '#parts/Beads.tsx';
import { Foot } from '#parts/Foot.tsx';
import { Frame } from '#parts/Frame.tsx';
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
    <Frame heading="All lines" places={[{ id: 'table', label: 'On the table', tone: 'table' }]}>
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

test('lines out of sight are counted, and those with pieces in the patient are named', async () => {
  const tops: Readonly<Record<string, number>> = { a: -60, b: 10, c: 90, d: 170, e: 250 };
  vi.spyOn(Element.prototype, 'getBoundingClientRect').mockImplementation(function of(
    this: Element,
  ) {
    const top = tops[this.getAttribute('data-line') ?? ''];
    return top === undefined ? rect(0, 160) : rect(top, top + 78);
  });
  render(() => (
    <Frame heading="Lines" places={[{ id: 'i', label: 'In the patient', tone: 'inside' }]}>
      <For each={Object.keys(tops)}>
        {(id) => <Wire id={id} name={id} stretches={[inside(id === 'e' ? 2 : 0)]} />}
      </For>
    </Frame>
  ));
  expect(await screen.findByText('1 line above')).toBeTruthy();
  expect(await screen.findByText('2 lines below, 1 with pieces in the patient')).toBeTruthy();
});

test('the actions of a wire lie over the foot, whose buttons wait', () => {
  const placed = vi.fn();
  const done = vi.fn();
  const [isOpen, setOpen] = createSignal(true);
  const actions = [
    { id: 'placed', label: 'Placed', detail: 'on the base', onDo: placed },
    { id: 'stays', label: 'Stays', whyNot: 'It may not stay.', onDo: placed },
  ];
  const over = () =>
    isOpen() ? <WireActions name="Loop" actions={actions} onDone={done} /> : null;
  const { container } = render(() => (
    <Foot last={{ at: '14:31:52', subject: 'Loop', rest: 'placed' }} over={over()}>
      <span>Take back</span>
    </Foot>
  ));
  const foot = container.querySelector('.foot');
  expect(foot?.hasAttribute('inert')).toBe(true);
  fireEvent.click(screen.getByRole('button', { name: /Placed/ }));
  fireEvent.click(screen.getByRole('button', { name: /Stays/ }));
  expect(placed).toHaveBeenCalledOnce();
  fireEvent.click(screen.getByRole('button', { name: 'Done' }));
  expect(done).toHaveBeenCalledOnce();
  setOpen(false);
  expect(foot?.hasAttribute('inert')).toBe(false);
  expect(screen.getByRole('status').textContent).toContain('14:31:52Loop placed');
});
