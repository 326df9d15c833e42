import { cleanup, fireEvent, render, screen } from '@solidjs/testing-library';
import { createSignal, Show } from 'solid-js';
import { afterEach, expect, onTestFinished, test, vi } from 'vitest';
import { Button } from '#parts/Button.tsx';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Facts } from '#parts/Facts.tsx';
import { Field } from '#parts/Field.tsx';
import { Headline } from '#parts/Headline.tsx';
import { Notice } from '#parts/Notice.tsx';
import { NumberPad } from '#parts/NumberPad.tsx';
import { StepList, type StepView } from '#parts/StepList.tsx';
import { Steps } from '#parts/Steps.tsx';
import { Track } from '#parts/Track.tsx';
import { type AgreeingPerson, TwoNames } from '#parts/TwoNames.tsx';

afterEach(cleanup);

test('a button that cannot be used says why and does nothing', () => {
  const pressed = vi.fn();
  const [whyNot, setWhyNot] = createSignal<string | undefined>('6 things are open.');
  render(() => (
    <Button kind="primary" size={112} whyNot={whyNot()} onPress={pressed}>
      Ask to close
    </Button>
  ));
  const button = screen.getByRole('button', { name: /Ask to close/ });
  const reason = document.getElementById(button.getAttribute('aria-describedby') ?? '');
  expect(reason?.textContent).toBe('6 things are open.');
  expect(button.getAttribute('aria-disabled')).toBe('true');
  fireEvent.click(button);
  expect(pressed).not.toHaveBeenCalled();
  setWhyNot(undefined);
  fireEvent.click(button);
  expect(pressed).toHaveBeenCalledOnce();
  expect(button.dataset.size).toBe('112');
});

test('what a button asks while it is tapped is asked no more when it is gone', () => {
  const warned = vi.spyOn(console, 'warn').mockImplementation(() => undefined);
  const [pieces, setPieces] = createSignal(1);
  const asked = vi.fn(() => pieces() > 0);
  const reason = () => 'None is on the table.';
  render(() => (
    <Show when={pieces() < 9}>
      <Button kind="plain" whyNot={asked() ? undefined : reason()} onPress={() => undefined}>
        Take one
      </Button>
    </Show>
  ));
  const button = screen.getByRole('button', { name: /Take one/ });
  for (let tap = 0; tap < 5; tap += 1) fireEvent.click(button);
  setPieces(9);
  asked.mockClear();
  setPieces(10);
  expect(asked).not.toHaveBeenCalled();
  expect(warned).not.toHaveBeenCalled();
  warned.mockRestore();
});

const two: readonly AgreeingPerson[] = [
  { role: 'Scrub', name: 'Testa' },
  { role: 'Circulator', name: 'Prueba' },
];

test('two people agree: the entry is made at the second name, and once', () => {
  const agreed = vi.fn();
  render(() => <TwoNames sentence="The count is agreed" people={two} onAgree={agreed} />);
  const scrub = screen.getByRole('button', { name: /Testa/ });
  const circulator = screen.getByRole('button', { name: /Prueba/ });
  fireEvent.click(scrub);
  fireEvent.click(scrub);
  expect(scrub.getAttribute('aria-pressed')).toBe('false');
  fireEvent.click(scrub);
  expect(scrub.textContent).toBe('ScrubTestaAgreed');
  expect(screen.getByText('Waits for Prueba.')).toBeTruthy();
  expect(agreed).not.toHaveBeenCalled();
  fireEvent.click(circulator);
  expect(agreed).toHaveBeenCalledOnce();
  expect(screen.getByText('All agree.')).toBeTruthy();
});

test('agreement does not pass to other people, and nobody agrees while something is wanting', () => {
  const agreed = vi.fn();
  const [people, setPeople] = createSignal(two);
  const [whyNot, setWhyNot] = createSignal<string | undefined>();
  render(() => <TwoNames sentence="Agreed" people={people()} whyNot={whyNot()} onAgree={agreed} />);
  fireEvent.click(screen.getByRole('button', { name: /Testa/ }));
  setPeople([
    { role: 'Scrub', name: 'Nuovo' },
    { role: 'Circulator', name: 'Prueba' },
  ]);
  fireEvent.click(screen.getByRole('button', { name: /Prueba/ }));
  expect(agreed).not.toHaveBeenCalled();
  setWhyNot('2 lines have no number.');
  fireEvent.click(screen.getByRole('button', { name: /Nuovo/ }));
  expect(agreed).not.toHaveBeenCalled();
  expect(screen.getByText('2 lines have no number.')).toBeTruthy();
});

test('a sheet opens over everything, and Escape leaves it', () => {
  const closed = vi.fn();
  const [isOpen, setOpen] = createSignal(true);
  render(() => (
    <Show when={isOpen()}>
      <Dialog title="How many packs?" sentence="Each is counted." onClose={closed}>
        <ChoiceGrid label="Packs" choices={[{ id: '1', name: 'One' }]} onChoose={closed} />
      </Dialog>
    </Show>
  ));
  const dialog = screen.getByRole('dialog', { name: 'How many packs?' });
  expect(dialog.hasAttribute('open')).toBe(true);
  const cancelled = new Event('cancel', { cancelable: true });
  dialog.dispatchEvent(cancelled);
  expect(cancelled.defaultPrevented).toBe(true);
  fireEvent.click(screen.getByRole('button', { name: 'Leave it' }));
  expect(closed).toHaveBeenCalledTimes(2);
  setOpen(false);
  expect(dialog.hasAttribute('open')).toBe(false);
});

test('a choice is answered by its tap; chosen ones stay pressed', () => {
  const chosen = vi.fn();
  const choices = [
    { id: 'loop', name: 'Pre-tied loops', detail: 'two and one' },
    { id: 'stop', name: 'Stop', isDanger: true },
  ];
  render(() => <ChoiceGrid label="Stump" choices={choices} chosen={['loop']} onChoose={chosen} />);
  expect(screen.getByRole('group', { name: 'Stump' })).toBeTruthy();
  const [loop, stop] = screen.getAllByRole('button');
  expect(loop?.getAttribute('aria-pressed')).toBe('true');
  expect(stop?.getAttribute('aria-pressed')).toBe('false');
  if (stop) fireEvent.click(stop);
  expect(chosen).toHaveBeenCalledExactlyOnceWith('stop');
});

test('a number pad gives the number that it shows', () => {
  const given = vi.fn();
  render(() => (
    <NumberPad
      label="Blood lost"
      unit="mL"
      length={3}
      setWords="Set it"
      whyNot={(n) => (n > 500 ? 'More than 500.' : undefined)}
      onNumber={given}
    />
  ));
  const shown = () => screen.getByRole('status').textContent;
  const set = screen.getByRole('button', { name: /Set it/ });
  fireEvent.click(set);
  expect(given).not.toHaveBeenCalled();
  for (const key of ['0', '3', '5', '0', '7']) {
    fireEvent.click(screen.getByRole('button', { name: key }));
  }
  expect(shown()).toBe('350');
  fireEvent.click(set);
  expect(given).toHaveBeenCalledExactlyOnceWith(350);
  fireEvent.click(screen.getByRole('button', { name: 'Rub out' }));
  fireEvent.keyDown(set, { key: '9' });
  expect(shown()).toBe('359');
  fireEvent.keyDown(set, { key: 'Backspace' });
  fireEvent.keyDown(set, { key: 'Backspace' });
  fireEvent.keyDown(set, { key: '9' });
  fireEvent.keyDown(set, { key: '9' });
  expect(shown()).toBe('399');
});

test.each([
  ['date', '19700131', '1970-01-31'],
  ['date', '1970-01-31x', '1970-01-31'],
  ['date', '197', '197'],
  ['time', '1320', '13:20'],
  ['text', 'TR-0417-88', 'TR-0417-88'],
  ['number', '70.5', '70.5'],
] as const)('a %s typed as %s is written as %s', (kind, typed, written) => {
  const [value, setValue] = createSignal('');
  render(() => <Field label="Field" kind={kind} value={value()} onInput={setValue} />);
  const input = screen.getByLabelText<HTMLInputElement>('Field');
  fireEvent.input(input, { target: { value: typed } });
  expect(value()).toBe(written);
  expect(input.value).toBe(written);
});

test('a field says what is wrong with it, and the room for it is always there', () => {
  const [error, setError] = createSignal<string | undefined>();
  render(() => (
    <Field label="Born" kind="date" value="" onInput={() => {}} error={error()} hint="Ask." />
  ));
  const input = screen.getByLabelText('Born');
  const says = document.getElementById(input.getAttribute('aria-describedby') ?? '');
  expect(says?.textContent).toBe('Ask.');
  setError('Give the date of birth.');
  expect(says?.textContent).toBe('Give the date of birth.');
  expect(input.getAttribute('aria-invalid')).toBe('true');
});

test('a refusal is an alert that stays until it is understood, and no tap on its way puts it away', () => {
  vi.useFakeTimers();
  onTestFinished(() => void vi.useRealTimers());
  const dismissed = vi.fn();
  const [sentence, say] = createSignal('There are not that many there.');
  render(() => (
    <Notice kind="refused" sentence={sentence()} whatToDo="Look." onDismiss={dismissed} />
  ));
  expect(screen.getByRole('alert').textContent).toContain(`Not entered. ${sentence()} Look.`);
  const tap = () => fireEvent.click(screen.getByRole('button', { name: 'Understood' }));
  vi.advanceTimersByTime(500);
  tap();
  vi.advanceTimersByTime(500);
  say('It is closed there.'); // another one in its place is as new as the first
  tap();
  expect(dismissed).not.toHaveBeenCalled();
  vi.advanceTimersByTime(600);
  tap();
  expect(dismissed).toHaveBeenCalledOnce();
});

const steps: readonly StepView[] = [
  { id: 'names', who: 'Everyone', words: 'Names', state: 'done', answer: '5 people' },
  { id: 'blood', who: 'Circulator', words: 'Blood', state: 'open', answer: 'Left open' },
  { id: 'scan', who: 'Surgeon', words: 'Faecoliths?', state: 'here' },
  { id: 'plan', who: 'Surgeon', words: 'Plan', state: 'ahead' },
];

test('only the step of the moment has controls, and it takes them along', () => {
  const opened = vi.fn();
  const [list, setList] = createSignal(steps);
  render(() => (
    <StepList title="Time out" steps={list()} onOpen={opened}>
      <Button kind="primary" onPress={() => {}}>
        Said aloud
      </Button>
    </StepList>
  ));
  const now = () => screen.getByRole('button', { name: 'Said aloud' }).closest('li')?.dataset.step;
  expect(now()).toBe('scan');
  fireEvent.click(screen.getByRole('button', { name: /Names/ }));
  expect(opened).toHaveBeenCalledExactlyOnceWith('names');
  expect(screen.queryByRole('button', { name: /Plan/ })).toBeNull();
  const shapes = [...document.querySelectorAll('.step .mark')].map((mark) =>
    mark.getAttribute('data-shape'),
  );
  expect(shapes).toEqual(['agreed', 'open']);
  setList(
    steps.map((step) => {
      if (step.id === 'scan') return { ...step, state: 'done', answer: '3' };
      return step.id === 'plan' ? { ...step, state: 'here' } : step;
    }),
  );
  expect(now()).toBe('plan');
});

test('the way through a discrepancy is numbered, with a tick for what is done', () => {
  render(() => (
    <Steps
      label="Search"
      steps={[
        { id: 'told', words: 'Surgeon told', state: 'done', says: '14:47' },
        { id: 'read', words: 'Record read back', state: 'skipped', says: 'read before' },
        { id: 'field', words: 'Search the field', state: 'here', says: 'Surgeon' },
      ]}
    >
      <Button kind="plain" onPress={() => {}}>
        Done
      </Button>
    </Steps>
  ));
  expect(screen.getAllByRole('listitem').map((step) => step.textContent)).toEqual([
    'done: Surgeon told14:47',
    '2Record read backNot done: read before',
    '3Search the fieldSurgeonDone',
  ]);
});

test('a specimen track, facts and a headline say their state in words', () => {
  render(() => (
    <>
      <Headline before="Asked at 14:46" words="Do not close." tone="missing" />
      <Track
        label="Specimen A"
        stops={[
          { id: 'out', name: 'Out', detail: '14:33', state: 'done' },
          { id: 'whole', name: 'Whole', state: 'here' },
        ]}
      />
      <Facts
        facts={[
          { name: 'Name', value: 'Testcase, Ash', agrees: true },
          { name: 'Number', value: 'TR-101', agrees: false },
          { name: 'For', value: 'Histology' },
        ]}
      />
    </>
  ));
  expect(screen.getByRole('heading', { name: 'Do not close.' })).toBeTruthy();
  expect(screen.getByText('Out').closest('li')?.textContent).toBe('done: Out14:33');
  expect(document.querySelector('[aria-current="step"]')?.textContent).toBe('Whole');
  expect(screen.getAllByRole('definition').map((fact) => fact.textContent)).toEqual([
    'Testcase, Ashagrees',
    'TR-101differs',
    'Histology',
  ]);
});
