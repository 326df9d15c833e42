import { createSignal, For, Show } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { whyNotRemove } from '#session/takeOut.ts';
import { dateWords } from '#words/dates.ts';
import { say } from '#words/say.ts';
import { useSession } from '../useSession.ts';

/** How long the tablet stays open by itself, and how long closed cases stay on it. */
export function KeptCases() {
  const { session, state } = useSession();
  const [said, setSaid] = createSignal<string>();
  const policy = () => state().unit.policy;
  const set = async (part: { idleMinutes?: number; keepDays?: number }) => {
    const done = await session.people.setPolicy({ ...policy(), ...part });
    setSaid(done.ok ? undefined : done.sentence);
  };
  const closed = () => state().cases.filter((one) => one.finishedAt && !one.practice);
  return (
    <section class="people-part">
      <Choices
        label={say`It locks itself after`}
        choices={[2, 5, 10, 30].map((n) => ({ id: `${n}`, name: say`${n} minutes` }))}
        chosen={`${policy().idleMinutes}`}
        onChoose={(id) => void set({ idleMinutes: Number(id) })}
      />
      <Choices
        label={say`Closed cases stay at least`}
        choices={[0, 7, 30, 90].map((n) => ({
          id: `${n}`,
          name: n === 0 ? say`No time` : say`${n} days`,
        }))}
        chosen={`${policy().keepDays}`}
        onChoose={(id) => void set({ keepDays: Number(id) })}
      />
      <p role="status">{said()}</p>
      <Show when={closed().length > 0}>
        <h2>{say`Take closed cases off the tablet`}</h2>
        <p class="quiet">
          {say`Only what was taken out as a file. It stands in the tablet's book: which case, how many entries, its
            code, by whom.`}
        </p>
        <ul class="people-list">
          <For each={closed()}>
            {(one) => {
              const why = () => whyNotRemove(state(), one, session.now());
              return (
                <li>
                  <span>
                    {one.patient} {one.title} {dateWords(one.finishedAt ?? '')}
                  </span>
                  <Button
                    kind="danger"
                    whyNot={why()}
                    onPress={() => void session.removeCase(one.caseId)}
                  >
                    {say`Take it off`}
                  </Button>
                </li>
              );
            }}
          </For>
        </ul>
      </Show>
    </section>
  );
}
