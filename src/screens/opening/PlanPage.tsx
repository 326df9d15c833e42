import { For, Show } from 'solid-js';
import { groupsNotSaid, offeredAtOpening, variantGroups } from '#engine/offered.ts';
import type { Sheet, Variant } from '#engine/sheet.ts';
import { Choices } from '#parts/Choices.tsx';
import { say } from '#words/say.ts';
import { groupWords, variantWords } from '../variantGroups.ts';
import type { PageProps } from './form.ts';

type PlanProps = PageProps & { readonly sheet: Sheet };

/** How the operation is planned: one variant of each group. A conversion is not planned, and not offered here. */
export function PlanPage(props: PlanProps) {
  const asked = () =>
    variantGroups(props.sheet).filter(
      (group) => offeredAtOpening(props.sheet, group).length > 1 || isMissing(props, group),
    );
  return (
    <section>
      <h2>{props.sheet.title}</h2>
      <Show
        when={asked().length > 0}
        fallback={<p class="quiet">{say`This sheet begins in one way. Nothing to choose.`}</p>}
      >
        <For each={asked()}>{(group) => <Group {...props} group={group} />}</For>
      </Show>
      <Later sheet={props.sheet} />
    </section>
  );
}

const isMissing = ({ sheet, form }: PlanProps, group: string): boolean =>
  groupsNotSaid(sheet, form.variants).includes(group);

function Group(props: PlanProps & { readonly group: string }) {
  const ways = () => offeredAtOpening(props.sheet, props.group);
  const isOpen = () => isMissing(props, props.group);
  const heading = () => {
    const words = groupWords(props.group);
    return isOpen() ? say`▲ ${words} is not said yet: choose it` : words;
  };
  return (
    <Choices
      label={heading()}
      isWide
      choices={ways().map((one) => ({
        id: one.id,
        name: one.name,
        detail: variantWords(props.sheet, one),
      }))}
      chosen={isOpen() ? '' : (props.form.variants[props.group] ?? ways()[0]?.id)}
      onChoose={(id) => props.change({ variants: { ...props.form.variants, [props.group]: id } })}
    />
  );
}

/** What can only be chosen in mid-case, so that nobody looks for it here. */
function Later(props: { readonly sheet: Sheet }) {
  const later = (): readonly Variant[] =>
    props.sheet.variants.filter(({ choose }) => choose === 'mid-case');
  return (
    <Show when={later().length > 0}>
      <p class="quiet">
        {say`Chosen in mid-case, when it happens (More, then Another plan): ${later()
          .map(({ name }) => name)
          .join(', ')}.`}
      </p>
    </Show>
  );
}
