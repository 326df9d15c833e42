import { For, Show } from 'solid-js';
import type { Line, Sheet, Step } from '#engine/sheet.ts';
import { say, sayInside, sayOf } from '#words/say.ts';

type PartProps = { readonly sheet: Sheet };

/** What lies on the table at the first count, what is opened when it is wanted, and what each plan adds. */
export function Opened(props: PartProps) {
  const linesOf = (section: string) => props.sheet.lines.filter((one) => one.section === section);
  const nameOf = (id: string) => props.sheet.lines.find((line) => line.id === id)?.name ?? id;
  return (
    <>
      <For each={props.sheet.sections}>
        {({ id, name }) => (
          <section class="library-part">
            <h2>{name}</h2>
            <ul class="library-lines">
              <For each={linesOf(id)}>{(line) => <LineRow line={line} />}</For>
            </ul>
          </section>
        )}
      </For>
      <For each={props.sheet.variants.filter(({ opens }) => Object.keys(opens).length > 0)}>
        {({ name, opens }) => (
          <section class="library-part">
            <h2>{say`With: ${name}`}</h2>
            <p>
              {Object.entries(opens)
                .map(([line, n]) => `${n} ${nameOf(line)}`)
                .join(', ')}
            </p>
          </section>
        )}
      </For>
    </>
  );
}

function LineRow(props: { readonly line: Line }) {
  return (
    <li data-wanted={props.line.opening > 0 ? 'no' : 'yes'}>
      <span class="library-number digits-type">{props.line.opening || '–'}</span>
      <strong>{props.line.name}</strong>
      <span class="quiet">{marksOf(props.line).join(' · ')}</span>
    </li>
  );
}

function marksOf({ opening, pack, film, stay, counted, detail }: Line): readonly string[] {
  return [
    ...(opening > 0 ? [] : [say`opened when wanted`]),
    ...(pack === undefined ? [] : [say`packs of ${pack}`]),
    ...(film === 'no' ? [say`no X-ray shows it`] : []),
    ...(stay.may === 'no' ? [] : [say`may stay`]),
    ...(counted ? [] : [say`followed, not counted`]),
    ...(detail === undefined ? [] : [detail]),
  ];
}

/** The questions of each checkpoint, as they are read aloud. */
export function Asked(props: PartProps) {
  return (
    <For each={props.sheet.checkpoints}>
      {({ name, leader, steps }) => (
        <section class="library-part">
          <h2>
            {name} <small class="quiet">{say`led by the ${sayOf(leader)}`}</small>
          </h2>
          <Questions steps={steps} />
        </section>
      )}
    </For>
  );
}

function Questions(props: { readonly steps: readonly Step[] }) {
  return (
    <ol class="library-questions">
      <For each={props.steps}>
        {({ who, ask, when }) => (
          <li>
            <span class="quiet">{who}</span> {ask}
            <Show when={when}>
              <span class="quiet"> {say`(only where it applies)`}</span>
            </Show>
          </li>
        )}
      </For>
    </ol>
  );
}

/** What is removed, and what is asked before each closure. */
export function Closed(props: PartProps) {
  const nameOf = (id: string) => props.sheet.lines.find((line) => line.id === id)?.name ?? id;
  const countOf = (id: string) => props.sheet.moments.find((one) => one.id === id)?.name ?? id;
  return (
    <>
      <section class="library-part">
        <h2>{say`Specimens`}</h2>
        <ul class="plain-list">
          <For each={props.sheet.specimens} fallback={<li>{say`None is foreseen.`}</li>}>
            {({ letter, name, test, media }) => (
              <li>
                <strong>
                  {letter} {name}
                </strong>
                {say`: ${test}, into ${media.join(say` or `).replaceAll('-', ' ')}`}
              </li>
            )}
          </For>
        </ul>
      </section>
      <For each={props.sheet.closures}>
        {({ name, count, inUse, look }) => (
          <section class="library-part">
            <h2>
              {name} <small class="quiet">{say`after the ${sayInside(countOf(count))}`}</small>
            </h2>
            <Show when={inUse.length > 0}>
              <p>{say`May still be in use inside: ${inUse.map(nameOf).join(', ')}.`}</p>
            </Show>
            <Questions steps={look} />
          </section>
        )}
      </For>
    </>
  );
}
