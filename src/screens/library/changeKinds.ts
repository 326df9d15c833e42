import type { Sheet } from '#engine/sheet.ts';
import { say } from '#words/say.ts';

/** A simple change as the sheet's format says it. The desk checks it like any other. */
export type ChangeSaid = Readonly<
  Record<string, string | number | boolean | Readonly<Record<string, string | number | boolean>>>
>;

export type FieldAsked = {
  readonly key: string;
  readonly label: string;
  readonly kind: 'text' | 'number';
  /** Left empty, it is not said. */
  readonly isOptional?: boolean;
};
export type Target = {
  readonly id: string;
  readonly name: string;
  readonly detail?: string;
  /** What stands there now, by field. */
  readonly now: Readonly<Record<string, string>>;
};
export type Values = Readonly<Record<string, string>>;

/** One kind of simple change: of what, which fields, and how it is said. */
export type ChangeKind = {
  readonly id: string;
  readonly name: string;
  readonly targets: (sheet: Sheet) => readonly Target[];
  readonly fields: readonly FieldAsked[];
  /** Words to choose from, where the kind needs one. */
  readonly choice?: {
    readonly key: string;
    readonly label: string;
    readonly words: readonly string[];
  };
  readonly say: (target: string, values: Values) => ChangeSaid;
};

const lines = ({ lines }: Sheet): readonly Target[] =>
  lines.map(({ id, name, detail, opening, pack }) => ({
    id,
    name,
    detail: say`${opening} opened${pack === undefined ? '' : say`, packs of ${pack}`}`,
    now: { name, detail: detail ?? '', opening: String(opening), pack: String(pack ?? '') },
  }));

const questions = (sheet: Sheet): readonly Target[] =>
  lists(sheet).flatMap(({ id, name, steps }) =>
    steps.map((step) => ({
      id: `${id} ${step.id}`,
      name: step.short,
      detail: name,
      now: { ask: step.ask, short: step.short },
    })),
  );

const lists = (sheet: Sheet) => [
  ...sheet.checkpoints.map(({ id, name, steps }) => ({ id: `checkpoint ${id}`, name, steps })),
  ...sheet.closures.map(({ id, name, look }) => ({
    id: `closure ${id}`,
    name: say`Last look: ${name}`,
    steps: look,
  })),
];

/** "checkpoint sign-in allergy" as the words of the format. */
function stepAt(target: string): Readonly<Record<string, string>> {
  const [list = '', owner = '', step = ''] = target.split(' ');
  return { [list]: owner, ...(step === '' ? {} : { step }) };
}

/** Only what was said and is new. A number is said as one. */
function said(
  values: Values,
  fields: readonly FieldAsked[],
): Readonly<Record<string, string | number>> {
  const entries = fields.flatMap(({ key, kind }) => {
    const value = values[key]?.trim() ?? '';
    return value === '' ? [] : [[key, kind === 'number' ? Number(value) : value] as const];
  });
  return Object.fromEntries(entries);
}

const name = (): FieldAsked => ({ key: 'name', label: say`Name`, kind: 'text' });
const quantity = (): readonly FieldAsked[] => [
  { key: 'opening', label: say`Opened at the first count`, kind: 'number', isOptional: true },
  { key: 'pack', label: say`Pieces in a pack`, kind: 'number', isOptional: true },
];
const words = (): readonly FieldAsked[] => [
  name(),
  { key: 'detail', label: say`Detail`, kind: 'text', isOptional: true },
];
const question = (): readonly FieldAsked[] => [
  { key: 'ask', label: say`The question, as it is read aloud`, kind: 'text' },
  { key: 'short', label: say`In a few words, for lists`, kind: 'text' },
];

/** A short name that is made from words: "Towel clip, large" is towel-clip-large. */
const idFrom = (text: string): string =>
  text
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^[^a-z]+|-+$/g, '')
    .slice(0, 40);

const ownSource = 'common practice, no source';

const newLine = (): ChangeKind => ({
  id: 'new-line',
  name: say`Add a line`,
  targets: ({ sections }) =>
    sections.map(({ id, name: heading }) => ({ id, name: heading, now: {} })),
  fields: [name(), ...quantity()],
  choice: {
    key: 'class',
    label: say`What it is`,
    words: ['swab', 'sharp', 'small', 'instrument'],
  },
  say: (section, values) => ({
    line: idFrom(values.name ?? ''),
    section,
    'new-line': {
      ...said(values, [name(), ...quantity()]),
      class: values.class ?? 'small',
      source: ownSource,
    },
  }),
});

const newQuestion = (): ChangeKind => ({
  id: 'new-question',
  name: say`Add a question`,
  targets: (sheet) => lists(sheet).map((list) => ({ id: list.id, name: list.name, now: {} })),
  fields: question(),
  choice: {
    key: 'who',
    label: say`Who answers`,
    words: ['scrub', 'circulator', 'surgeon', 'anaesthetist', 'everyone'],
  },
  say: (target, values) => ({
    ...stepAt(target),
    step: idFrom(values.short ?? ''),
    'new-step': { ...said(values, question()), who: values.who ?? 'everyone', source: ownSource },
  }),
});

/** What can be changed on the tablet. Everything else is changed in the file. */
export const changeKinds = (): readonly ChangeKind[] => [
  {
    id: 'quantity',
    name: say`How much is opened`,
    targets: lines,
    fields: quantity(),
    say: (line, values) => ({ line, set: said(values, quantity()) }),
  },
  {
    id: 'words',
    name: say`Words of a line`,
    targets: lines,
    fields: words(),
    say: (line, values) => ({ line, set: said(values, words()) }),
  },
  {
    id: 'question',
    name: say`Words of a question`,
    targets: questions,
    fields: question(),
    say: (target, values) => ({ ...stepAt(target), set: said(values, question()) }),
  },
  newLine(),
  newQuestion(),
  {
    id: 'hide-line',
    name: say`Hide a line`,
    targets: lines,
    fields: [],
    say: (line) => ({ line, drop: true }),
  },
  {
    id: 'hide-question',
    name: say`Hide a question`,
    targets: questions,
    fields: [],
    say: (target) => ({ ...stepAt(target), drop: true }),
  },
];
