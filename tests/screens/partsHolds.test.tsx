import { cleanup, fireEvent, render, screen } from '@solidjs/testing-library';
import { createSignal } from 'solid-js';
import { afterEach, expect, test, vi } from 'vitest';
import { Band, type BandProps } from '#parts/Band.tsx';
import { HoldList, type HoldView } from '#parts/HoldList.tsx';
import { Shell } from '#parts/Shell.tsx';
import { Spine } from '#parts/Spine.tsx';

const inside: HoldView = {
  id: 'piece-inside:swab',
  code: 'piece-inside',
  title: 'Swab: 2 in the abdomen',
  detail: 'Take it out',
  who: 'surgeon and scrub',
  tone: 'held',
};
const short: HoldView = {
  id: 'line-short:seal',
  code: 'line-short',
  title: 'Seal short by 1',
  tone: 'missing',
};
const agreed: HoldView = {
  id: 'time-out',
  code: 'passed',
  title: 'Time out complete, 13:44',
  tone: 'agreed',
};

afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

const said = (container: Element) => container.querySelector('[aria-live="polite"]')?.textContent;

test('each reason says its meaning in a word, and who can settle it', () => {
  render(() => <HoldList title="Closure is held" holds={[inside, short, agreed]} />);
  expect(screen.getByRole('heading', { name: 'Closure is held' })).toBeTruthy();
  expect(screen.getAllByRole('listitem').map((card) => card.textContent)).toEqual([
    'Held: Swab: 2 in the abdomen. Take it out · surgeon and scrub',
    'Missing: Seal short by 1',
    'Agreed: Time out complete, 13:44',
  ]);
  const marks = [...document.querySelectorAll('.hold .mark')];
  expect(marks.map((mark) => mark.getAttribute('data-shape'))).toEqual([
    'held',
    'missing',
    'agreed',
  ]);
});

test('a reason that leads somewhere is a button', () => {
  const opened = vi.fn();
  const holds = [{ ...inside, opens: true }, agreed];
  render(() => <HoldList title="Held" holds={holds} onOpen={opened} />);
  fireEvent.click(screen.getByRole('button'));
  expect(opened.mock.calls).toEqual([[inside.id]]);
});

test('a new reason is announced once; one that only changes its words is not', () => {
  const [holds, setHolds] = createSignal<readonly HoldView[]>([inside]);
  const { container } = render(() => <HoldList title="Held" holds={holds()} />);
  expect(said(container)).toBe('');
  setHolds([{ ...inside, title: 'Swab: 3 in the abdomen' }]);
  expect(said(container)).toBe('');
  setHolds([inside, short, agreed]);
  expect(said(container)).toBe('Now open: Seal short by 1.');
  const card = container.querySelector('[data-code="line-short"]');
  setHolds([{ ...short, title: 'Seal short by 2' }]);
  expect(said(container)).toBe('Now open: Seal short by 1.');
  expect(container.querySelector('[data-code="line-short"]')).toBe(card);
  expect(card?.textContent).toContain('short by 2');
});

test('when nothing is open any more, that is announced', () => {
  const [holds, setHolds] = createSignal<readonly HoldView[]>([inside]);
  const title = () => (holds().length === 0 ? 'Nothing open that I know of' : 'Closure is held');
  const { container } = render(() => <HoldList title={title()} holds={holds()} />);
  setHolds([]);
  expect(said(container)).toBe('Nothing open that I know of.');
});

test('reasons out of sight are counted', async () => {
  const tops = [0, 70, 140, 210];
  vi.spyOn(Element.prototype, 'getBoundingClientRect').mockImplementation(function of(
    this: Element,
  ) {
    const index = [...document.querySelectorAll('.hold')].indexOf(this);
    return index < 0 ? new DOMRect(0, 0, 300, 150) : new DOMRect(0, tops[index], 300, 64);
  });
  vi.spyOn(Element.prototype, 'scrollHeight', 'get').mockReturnValue(400);
  vi.spyOn(HTMLElement.prototype, 'clientHeight', 'get').mockReturnValue(160);
  const holds = tops.map((top) => ({ ...inside, id: `${top}` }));
  render(() => <HoldList title="Held" holds={holds} />);
  expect(await screen.findByRole('button', { name: '2 more below' })).toBeTruthy();
});

const band: Omit<BandProps, 'allergies'> = {
  patient: { name: 'Testcase, Ash', number: 'TR-100', born: '1970-01-31' },
  procedure: 'Laparoscopic appendicectomy',
  clocks: [
    { value: '00:48', label: 'since incision' },
    { value: '14:32', label: 'saved' },
  ],
  lights: 'up',
  onLights: () => {},
};

test.each([
  [undefined, 'Allergies not asked', 'not-asked'],
  [[], 'No known allergies', 'none'],
  [['latex'], 'Allergy: latex', 'some'],
  ['unwritten', 'Allergy known: ask which', 'some'],
  [['latex', 'penicillin'], 'Allergies: latex, penicillin', 'some'],
] as const)('allergies %j read as %s', (allergies, words, state) => {
  render(() => <Band {...band} allergies={allergies} />);
  const chip = screen.getByText(words).parentElement;
  expect(chip?.dataset.state).toBe(state);
});

test('the band says who, which operation and what time it is', () => {
  const { container } = render(() => <Band {...band} allergies={[]} practice />);
  expect(container.textContent).toContain('Testcase, Ash');
  expect(container.textContent).toContain('Patient number TR-100, born 1970-01-31');
  expect(container.textContent).toContain('Practice case');
  expect(screen.getByText('since incision').nextElementSibling?.textContent).toBe('00:48');
  expect(screen.queryByRole('alert')).toBeNull();
});

test('an entry that is not saved takes the place of the time of the last save', () => {
  render(() => <Band {...band} allergies={[]} notSaved="The last entry is tried again." />);
  expect(screen.getByRole('alert').textContent).toBe('Not saved. The last entry is tried again.');
  expect(screen.queryByText('saved')).toBeNull();
  expect(screen.getByText('since incision')).toBeTruthy();
});

test('the button for the lights says what it will do', () => {
  const [lights, setLights] = createSignal<'up' | 'down'>('up');
  const flip = () => setLights(lights() === 'up' ? 'down' : 'up');
  render(() => <Band {...band} allergies={[]} lights={lights()} onLights={flip} />);
  fireEvent.click(screen.getByRole('button', { name: 'Lights down' }));
  expect(screen.getByRole('button', { name: 'Lights up' })).toBeTruthy();
});

const stations = [
  { id: 'sign-in', name: 'Sign in', state: 'passed', at: '13:31' },
  { id: 'time-out', name: 'Time out', state: 'here' },
  { id: 'record', name: 'Record', state: 'ahead' },
] as const;

test('each station says whether it is passed, now or ahead', () => {
  const opened = vi.fn();
  render(() => <Spine stations={stations} onOpen={opened} />);
  expect(screen.getAllByRole('button').map((one) => one.textContent)).toEqual([
    'Sign in, passed 13:31',
    'Time out, now ',
    'Record, ahead ',
  ]);
  expect(document.querySelector('[aria-current="step"]')?.textContent).toContain('Time out');
  fireEvent.click(screen.getByRole('button', { name: /Sign in/ }));
  expect(opened).toHaveBeenCalledExactlyOnceWith('sign-in');
});

test('without a way to open them, stations are no buttons', () => {
  render(() => <Spine stations={stations} />);
  expect(screen.queryAllByRole('button')).toEqual([]);
  expect(screen.getAllByRole('listitem')).toHaveLength(3);
});

test('the shell has its landmarks, and no side where nothing stands there', () => {
  const [side, setSide] = createSignal<string | undefined>('6 things');
  render(() => (
    <Shell band="band" spine="spine" aside={side()} asideLabel="Holds" foot="foot" notice="no">
      main
    </Shell>
  ));
  expect(screen.getByRole('main').textContent).toBe('main');
  expect(screen.getByRole('navigation', { name: 'Stations of the case' })).toBeTruthy();
  expect(screen.getByRole('complementary', { name: 'Holds' }).textContent).toBe('6 things');
  expect(screen.getByRole('contentinfo').textContent).toBe('nofoot');
  setSide(undefined);
  expect(screen.queryByRole('complementary')).toBeNull();
});
