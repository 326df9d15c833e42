import { readFileSync } from 'node:fs';
import { cleanup, render } from '@solidjs/testing-library';
import type { JSX } from 'solid-js';
import { afterEach, expect, test } from 'vitest';
import { Band } from '#parts/Band.tsx';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { CountLines } from '#parts/CountLines.tsx';
import { Field } from '#parts/Field.tsx';
import { HoldList } from '#parts/HoldList.tsx';
import { Spine } from '#parts/Spine.tsx';
import { StepList } from '#parts/StepList.tsx';
import { Steps } from '#parts/Steps.tsx';
import { Stretch } from '#parts/Stretch.tsx';
import { Track } from '#parts/Track.tsx';

/**
 * No state differs from another by colour alone. What is left of a state without colours is what a person who sees
 * none of them has: the words that are seen, the shapes, and what the style sheet says of it beside colours.
 */

afterEach(cleanup);

const colours =
  /^(color|border-color|border-.*-color|outline-color|fill|stroke|--mark-ground|text-decoration-color|box-shadow)$/;

/** Grounds that stand out dark on light, or light on dark, from what lies around: 3:1 and more by contrast.test.ts. */
const plates = /var\(--(ink|[a-z]+-plate|agreed|held|missing|inside|stays)\)/;

/** Declarations of a style sheet that belong to this state of an attribute, without colours. */
function styleOf(css: string, attribute: string, state: string): readonly string[] {
  const bare = css.replace(/\/\*[\s\S]*?\*\//g, '');
  return [...bare.matchAll(/([^{}]+)\{([^{}]*)\}/g)].flatMap(([, selectors = '', body = '']) => {
    const own = selectors
      .split(',')
      .map((selector) => selector.trim())
      .filter((selector) => isFor(selector, attribute, state));
    const said = body
      .split(';')
      .map((one) => one.trim())
      .filter((one) => one !== '' && !isColour(one))
      .map((one) => one.replace(/^background.*/, 'is filled'));
    return own.flatMap((selector) =>
      said.map((one) => `${selector.replace(/\[[^\]]*\]|:not\([^)]*\)/g, '')} ${one}`),
    );
  });
}

function isFor(selector: string, attribute: string, state: string): boolean {
  if (selector.includes(`:not([${attribute}="${state}"])`)) return false;
  return selector.includes(`[${attribute}="${state}"]`) || selector.includes(`:not([${attribute}=`);
}

/** `border: 3px solid var(--held)` says a colour and a shape: the shape stays. */
function isColour(declaration: string): boolean {
  const [name = '', value = ''] = declaration.split(/:\s*/);
  if (colours.test(name)) return true;
  if (name === 'background') return !plates.test(value);
  return /^border/.test(name) && /^(var\(--[\w-]+\)|transparent)$/.test(value);
}

/** What is seen of an element: its words, without those that only a screen reader says, and its shapes. */
function seenOf(element: Element): string {
  const copy = element.cloneNode(true);
  if (!(copy instanceof Element)) return '';
  for (const hidden of copy.querySelectorAll('.visually-hidden')) hidden.remove();
  const shapes = [...copy.querySelectorAll('svg')].map((svg) => svg.innerHTML);
  return [copy.textContent, ...shapes].join('|').replaceAll(/var\(--[\w-]+\)/g, '');
}

type Kind = {
  readonly name: string;
  readonly css: string;
  readonly attribute: string;
  readonly find: string;
  readonly states: readonly string[];
  /** The part with this one state, always with the same words. */
  readonly show: (state: string) => JSX.Element;
};

// A state comes as a word here, and as its own type in the part.
const kinds: readonly Kind[] = [
  {
    name: 'a hold',
    css: 'HoldList',
    attribute: 'data-tone',
    find: '.hold',
    states: ['held', 'missing', 'due', 'agreed'],
    show: (tone) => (
      <HoldList
        title="Closure is held"
        // one of the tones above
        holds={[{ id: 'a', code: 'a', title: 'A thing', tone: tone as 'held' }]}
      />
    ),
  },
  {
    name: 'a step that is read aloud',
    css: 'StepList',
    attribute: 'data-state',
    find: '.step',
    states: ['done', 'here', 'ahead', 'not-applicable', 'open', 'stopped'],
    show: (state) => (
      <StepList
        title="Sign in"
        sentence=""
        // one of the states above
        steps={[
          {
            id: 'a',
            who: 'Surgeon',
            words: 'Ready?',
            state: state as 'done', // one of the states above
            answer: state === 'here' || state === 'ahead' ? undefined : 'Said',
          },
        ]}
      >
        <button type="button">Yes</button>
      </StepList>
    ),
  },
  {
    name: 'a step of a search',
    css: 'Steps',
    attribute: 'data-state',
    find: '.numbered-step',
    states: ['done', 'here', 'ahead', 'skipped'],
    show: (state) => (
      <Steps
        label="Search"
        // one of the states above
        steps={[{ id: 'a', words: 'Look', state: state as 'done' }]}
      />
    ),
  },
  {
    name: 'a station',
    css: 'Spine',
    attribute: 'data-state',
    find: '.station',
    states: ['passed', 'here', 'ahead'],
    // one of the states above
    show: (state) => <Spine stations={[{ id: 'a', name: 'Time out', state: state as 'here' }]} />,
  },
  {
    name: 'a stop of a track',
    css: 'Track',
    attribute: 'data-state',
    find: '.track-stop',
    states: ['done', 'here', 'ahead'],
    show: (state) => (
      // one of the states above
      <Track label="Way" stops={[{ id: 'a', name: 'Out', state: state as 'here' }]} />
    ),
  },
  {
    name: 'a line of a count',
    css: 'CountLines',
    attribute: 'data-state',
    find: '.count-line',
    states: ['here', 'ahead', 'done'],
    show: (state) => (
      <CountLines
        parts={[{ id: 'p', label: 'Field', state: 'here' }]}
        lines={[{ id: 'a', name: 'Swab', entered: state === 'done' ? 5 : undefined }]}
        currentId={state === 'here' ? 'a' : undefined}
        progress=""
      />
    ),
  },
  {
    name: 'a clock',
    css: 'Band',
    attribute: 'data-tone',
    find: '.band-clock',
    states: ['none', 'held', 'missing'],
    show: (tone) => (
      <Band
        patient={{ name: 'Testcase, Ash', number: 'TR-100', born: '1970-01-31' }}
        allergies={[]}
        procedure="A procedure"
        // one of the tones above; the last clock is that of the last save
        clocks={[
          {
            value: '00:10',
            label: 'until next dose',
            tone: tone === 'none' ? undefined : (tone as 'held'), // one of the tones above
          },
          { value: '12:00', label: 'saved' },
        ]}
        lights="up"
        onLights={() => undefined}
      />
    ),
  },
  {
    name: 'a field',
    css: 'Field',
    attribute: 'data-wrong',
    find: '.field',
    states: ['no', 'yes'],
    show: (state) => (
      <Field
        kind="text"
        label="Name"
        value=""
        hint="Words"
        error={state === 'yes' ? 'Words' : undefined}
        onInput={() => undefined}
      />
    ),
  },
  {
    name: 'a choice',
    css: 'ChoiceGrid',
    attribute: 'aria-pressed',
    find: '.choice',
    states: ['false', 'true'],
    show: (state) => (
      <ChoiceGrid
        label="Which"
        choices={[{ id: 'a', name: 'This' }]}
        chosen={state === 'true' ? ['a'] : []}
        onChoose={() => undefined}
      />
    ),
  },
];

test.each(kinds)(
  '$name: no two states differ by colour alone',
  ({ css, attribute, find, states, show }) => {
    const text = readFileSync(`src/parts/${css}.css`, 'utf8');
    const left = states.map((state) => {
      const { container, unmount } = render(() => show(state));
      const element = container.querySelector(find);
      if (!element) throw new Error(`There is no ${find}.`);
      const seen = seenOf(element);
      unmount();
      return JSON.stringify([seen, styleOf(text, attribute, state)]);
    });
    expect(left.filter((one, index) => left.indexOf(one) < index)).toEqual([]);
  },
);

test('pieces on a wire are told apart by their column and their beads, not by their colour', () => {
  const css = readFileSync('src/parts/Beads.css', 'utf8');
  const tones = ['table', 'inside', 'off', 'stays'] as const;
  const styles = tones.map((tone) => JSON.stringify(styleOf(css, 'data-tone', tone)));
  const names = tones.map((tone) => {
    const { getByRole, unmount } = render(() => (
      <Stretch line="Swab" stretch={{ place: tone, placeWords: tone, tone, pieces: 2 }} />
    ));
    const name = getByRole('button').getAttribute('aria-label');
    unmount();
    return name;
  });
  expect(new Set(names).size).toBe(tones.length);
  // What is inside and what stays are never taken for one another, nor for what lies outside.
  expect(styles[1]).not.toBe(styles[3]);
  expect(styles[2]).not.toBe(styles[0]);
});

test('a rule that differs by colour alone is found', () => {
  const css =
    '.a[data-state="x"] { color: red; border-color: blue } .a[data-state="y"] { color: blue }';
  expect(styleOf(css, 'data-state', 'x')).toEqual(styleOf(css, 'data-state', 'y'));
  const shape = '.a[data-state="x"] { border: 3px dashed var(--held) }';
  expect(styleOf(shape, 'data-state', 'x')).toEqual(['.a border: 3px dashed var(--held)']);
});
