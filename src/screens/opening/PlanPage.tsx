import { For, Show } from 'solid-js';
import type { Sheet, Variant } from '#engine/sheet.ts';
import { Choices } from '#parts/Choices.tsx';
import { groupWords } from '../variantGroups.ts';
import type { PageProps } from './form.ts';

/** How the operation is planned: one variant of each group. */
export function PlanPage(props: PageProps & { readonly sheet: Sheet }) {
  const groups = () => [...new Set(props.sheet.variants.map((variant) => variant.group))];
  const of = (group: string): readonly Variant[] =>
    props.sheet.variants.filter((variant) => variant.group === group);
  return (
    <section>
      <h2>{props.sheet.title}</h2>
      <Show
        when={groups().length > 0}
        fallback={<p class="quiet">This sheet knows one way of doing it. Nothing to choose.</p>}
      >
        <For each={groups()}>
          {(group) => (
            <Choices
              label={groupWords(group)}
              choices={of(group).map(({ id, name }) => ({ id, name }))}
              chosen={props.form.variants[group] ?? of(group)[0]?.id}
              onChoose={(id) => props.change({ variants: { ...props.form.variants, [group]: id } })}
            />
          )}
        </For>
      </Show>
    </section>
  );
}
