import { For, Show } from 'solid-js';
import { fitsVariant } from '#engine/applies.ts';
import type { Case } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { say, sayOf } from '#words/say.ts';
import { CaseShell } from '../CaseShell.tsx';
import { NextStep } from '../NextStep.tsx';
import { useCase, useSession } from '../useSession.ts';
import { groupWords, variantWords } from '../variantGroups.ts';
import './brief.css';

/** What the team says before the patient comes, and what this operation is planned to be. Read, not ticked. */
export function BriefScreen() {
  const { session } = useSession();
  const current = useCase();
  const briefing = () => current().sheet.briefing ?? [];
  return (
    <CaseShell
      name={say`Team brief`}
      actions={
        <>
          <Button kind="plain" onPress={() => session.show({ name: 'frame' })}>
            {say`To the frame`}
          </Button>
          <NextStep />
        </>
      }
    >
      <header class="screen-head">
        <h1>{say`Team brief`}</h1>
        <p class="quiet">{say`Read aloud before the patient comes. Nothing here is ticked.`}</p>
      </header>
      <div class="brief">
        <section>
          <h2 class="part-title">{say`To be said`}</h2>
          <Show
            when={briefing().length > 0}
            fallback={<p class="quiet">{say`This sheet asks for nothing at the brief.`}</p>}
          >
            <ul class="plain-list brief-said">
              <For each={briefing()}>{(sentence) => <li>{sentence}</li>}</For>
            </ul>
          </Show>
        </section>
        <section>
          <h2 class="part-title">{say`The plan`}</h2>
          <dl class="brief-plan">
            <For each={plansOf(current())}>
              {(plan) => (
                <div>
                  <dt>{plan.of}</dt>
                  <dd>
                    <strong>{plan.name}</strong>
                    <Show when={plan.words}> {plan.words}</Show>
                  </dd>
                </div>
              )}
            </For>
          </dl>
          <Show when={current().sheet.aims.length > 0}>
            <h2 class="part-title">{say`What matters here`}</h2>
            <ul class="plain-list">
              <For each={current().sheet.aims}>{(aim) => <li>{aim}</li>}</For>
            </ul>
          </Show>
        </section>
      </div>
    </CaseShell>
  );
}

type Plan = { readonly of: string; readonly name: string; readonly words?: string | undefined };

/** What was chosen of each group, then what is to be taken. */
function plansOf(current: Case): readonly Plan[] {
  const { sheet, variants } = current;
  const ways = sheet.variants
    .filter((variant) => variants[variant.group] === variant.id)
    .map((variant) => ({
      of: shortGroup(variant.group),
      name: variant.name,
      words: variantWords(sheet, variant),
    }));
  const specimens = sheet.specimens
    .filter((one) => one.planned && fitsVariant(current, one.when))
    .map(({ letter, name, test, media, side }) => ({
      of: say`Specimen ${letter}`,
      name,
      words: [say`for ${test}`, media.map(sayOf).join(' / '), sideWords(side)]
        .filter(Boolean)
        .join(', '),
    }));
  return [...ways, ...specimens];
}

/** A heading over choices may say more than its group: here the name alone stands before what was chosen. */
const shortGroup = (group: string): string => groupWords(group).replace(/ \(.*\)$/, '');

const sideWords = (side: string): string => (side === 'not applicable' ? '' : sayOf(side));
