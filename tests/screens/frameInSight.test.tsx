/** What is opened, and what alone is asked for, is brought where it can be seen. */
import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test, vi } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { atFrame } from '../support/atFrame.tsx';

const loaded = await sheets.find((known) => known.id === 'ports-and-swabs')?.load();
if (!loaded) throw new Error('The teaching sheet is not there.');
const sheet = { ...loaded, checkpoints: [] };

beforeAll(preloadScreens, 30_000);
afterEach(() => {
  vi.restoreAllMocks();
  cleanup();
});

/** What was brought into sight from now on, and where: the first line of each, and the edge. */
function inSight(): readonly string[] {
  const brought: string[] = [];
  vi.spyOn(Element.prototype, 'scrollIntoView').mockImplementation(function scroll(
    this: Element,
    how,
  ) {
    const first = this.matches('[data-line]') ? this : this.querySelector('[data-line]');
    const part = this.matches('.wire') ? 'line' : 'group';
    const block = typeof how === 'object' ? how.block : undefined;
    brought.push(`${part} of ${first?.getAttribute('data-line')}: ${block}`);
  });
  return brought;
}

test('a line that was opened stands with its section above it, in sight itself at the last', async () => {
  await atFrame(sheet);
  const brought = inSight();
  fireEvent.click(screen.getByRole('button', { name: 'Add to field' }));
  fireEvent.click(await screen.findByRole('button', { name: /^Large swab/ }));
  fireEvent.click(await screen.findByRole('button', { name: 'Both saw it: Testa and Prueba' }));
  await waitFor(() => expect(brought).not.toEqual([]));
  expect(brought).toEqual([
    'line of swab: start', // the first of its section
    'line of large-swab: nearest', // its group, which it stands in alone
    'line of large-swab: nearest',
  ]);
});

test('where the list becomes shorter or longer it begins at its top', async () => {
  vi.spyOn(Element.prototype, 'scrollHeight', 'get').mockReturnValue(2000); // longer than its room
  const session = await atFrame(sheet);
  await session.send({ type: 'incision' });
  const place = { from: 'table', to: 'patient/abdomen' } as const;
  const moved = await session.send({ type: 'move', line: 'grasper', ...place, n: 1 });
  expect(moved.ok).toBe(true);
  const brought = inSight();
  fireEvent.click(await screen.findByRole('button', { name: 'Only what is inside' }));
  fireEvent.click(screen.getByRole('button', { name: 'All lines' }));
  expect(brought).toEqual(['line of grasper: start', 'line of swab: start']);
});
