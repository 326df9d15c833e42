import { For, Show } from 'solid-js';
import { yearsOld } from '#engine/applies.ts';
import { entryWords } from '#engine/case/entryWords.ts';
import type { CaseEvent } from '#engine/case/events.ts';
import { exceptionsOf, verdictOf, verdictWords } from '#engine/closures/verdictOf.ts';
import { lossOf } from '#engine/notes/lossOf.ts';
import type { Case } from '#engine/state.ts';
import { CountsTable } from './CountsTable.tsx';
import { dateWords, timeWords } from './instants.ts';
import { createPageFooter } from './pageFooter.ts';
import { SpecimensTable } from './SpecimensTable.tsx';
import { StaysTable } from './StaysTable.tsx';

export type RecordPageProps = {
  readonly current: Case;
  /** Every entry as it was written, in order. */
  readonly rows: readonly {
    readonly seq: number;
    readonly at: string;
    readonly events: readonly CaseEvent[];
  }[];
  /** Short code of the last entry of the chain, so that paper and file can be held together. */
  readonly code: string;
};

/** The whole case on paper: who, what came of it, what stays, the specimens, the exceptions, and every entry. */
export function RecordPage(props: RecordPageProps) {
  const current = () => props.current;
  createPageFooter(() => {
    const { name, number } = current().patient;
    return `${name}, ${number} · ${verdictWords[verdictOf(current())]} · ${props.code}`;
  });
  return (
    <article class="record">
      <Head current={current()} code={props.code} />
      <Verdict current={current()} />
      <section>
        <h2>Counts</h2>
        <CountsTable current={current()} />
      </section>
      <section>
        <h2>What stays in the patient</h2>
        <StaysTable current={current()} />
      </section>
      <section>
        <h2>Specimens</h2>
        <SpecimensTable current={current()} />
      </section>
      <Loss current={current()} />
      <Entries current={current()} rows={props.rows} />
      <p class="record-caution">
        Lastlook is an aid. It records what the team said and counted; it never says that it is safe
        to close. Local policy, manufacturers' instructions and licensed practitioners decide.
      </p>
    </article>
  );
}

function Head(props: { readonly current: Case; readonly code: string }) {
  const patient = () => props.current.patient;
  const allergies = () => {
    const known = patient().allergies;
    if (known === undefined) return 'not asked';
    return known.length === 0 ? 'none known' : known.join(', ');
  };
  return (
    <header class="record-head">
      <div>
        <p class="record-kind">
          Count and checklist record{props.current.practice ? ' · PRACTICE, not a patient' : ''}
        </p>
        <h1>{patient().name}</h1>
        <p>
          <span class="digits-type">{patient().number}</span> · born{' '}
          <span class="digits-type">{patient().born}</span> (
          {yearsOld(patient().born, props.current.startedAt)} years)
          <Show when={patient().weightKg}>{(kg) => <> · {kg()} kg</>}</Show>
        </p>
        <p>
          Allergies: <strong>{allergies()}</strong>
        </p>
      </div>
      <div class="record-side">
        <p>
          <strong>{props.current.sheet.title}</strong>
        </p>
        <p>{variantWords(props.current)}</p>
        <p>
          {dateWords(props.current.startedAt)}, {timeWords(props.current.startedAt)} to{' '}
          {props.current.finishedAt ? timeWords(props.current.finishedAt) : 'not finished'}
        </p>
        <p>Sheet version {props.current.sheet.version}</p>
        <p>
          Chain code <strong class="digits-type">{props.code}</strong>
        </p>
      </div>
      <p class="record-team">{teamWords(props.current)}</p>
    </header>
  );
}

function variantWords(current: Case): string {
  const chosen = Object.values(current.variants);
  return current.sheet.variants
    .filter((variant) => chosen.includes(variant.id))
    .map((variant) => variant.name)
    .join(' · ');
}

function teamWords(current: Case): string {
  const { scrub, circulator, surgeon, anaesthetist } = current.team;
  const reliefs = current.counts.reliefs.map(
    (one) => `${one.to} for ${one.from} as ${one.role} at ${timeWords(one.at)}`,
  );
  const now = `Scrub ${scrub} · Circulator ${circulator} · Surgeon ${surgeon} · Anaesthetist ${anaesthetist}`;
  return reliefs.length === 0 ? now : `${now} · Reliefs: ${reliefs.join('; ')}`;
}

function Verdict(props: { readonly current: Case }) {
  const exceptions = () => exceptionsOf(props.current);
  const unsettled = () => Object.values(props.current.differing);
  return (
    <section class="record-verdict" data-verdict={verdictOf(props.current)}>
      <h2>{verdictWords[verdictOf(props.current)]}</h2>
      <ul>
        <For each={exceptions()}>{(one) => <li>{one.sentence}</li>}</For>
        <For each={unsettled()}>
          {(one) => <li>{props.current.lines.get(one.line)?.name} does not agree.</li>}
        </For>
      </ul>
    </section>
  );
}

function Loss(props: { readonly current: Case }) {
  const loss = () => lossOf(props.current);
  const isMeasured = () => props.current.weighed.length + props.current.fluids.length > 0;
  return (
    <Show when={isMeasured()}>
      <section>
        <h2>Fluid and blood, estimated</h2>
        <Show
          when={!loss().isUnknown}
          fallback={<p>No estimate: a dry weight is not known for every swab that was weighed.</p>}
        >
          <p>
            Swabs {loss().swabsMl} mL + suction less irrigation {loss().suctionMl} mL = about{' '}
            {loss().totalMl} mL. Weighing reads high; dry weights are those of the sheet.
          </p>
        </Show>
        <Show when={loss().needsLook}>
          <p>More irrigation was recorded than the suction holds. Look again.</p>
        </Show>
      </section>
    </Show>
  );
}

function Entries(props: RecordPageEntries) {
  return (
    <section>
      <h2>Every entry, in order</h2>
      <table class="record-entries">
        <thead>
          <tr>
            <th>No.</th>
            <th>Time</th>
            <th>What</th>
            <th>Entered by</th>
          </tr>
        </thead>
        <tbody>
          <For each={props.rows}>
            {(row) => (
              <For each={row.events}>
                {(event, index) => {
                  const words = entryWords(props.current, event);
                  return (
                    <tr data-type={event.type}>
                      <td class="digits-type">{index() === 0 ? row.seq : ''}</td>
                      <td class="digits-type">{timeWords(row.at, true)}</td>
                      <td>
                        <strong>{words.subject}</strong> {words.rest}
                      </td>
                      <td>{event.by}</td>
                    </tr>
                  );
                }}
              </For>
            )}
          </For>
        </tbody>
      </table>
    </section>
  );
}

type RecordPageEntries = Pick<RecordPageProps, 'current' | 'rows'>;
