import { createSignal } from 'solid-js';
import type { Command } from '#engine/case/events.ts';
import { isCountDue, momentName } from '#engine/counts/countsDue.ts';
import { type MomentId, momentIds } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useCase } from '../useSession.ts';

/** No time to count: the surgeon and the circulator leave a count out. It is a mark for good, never a tick. */
export function EmergencyPart(props: { readonly act: (command: Command) => Promise<void> }) {
  const current = useCase();
  const moments = (): readonly MomentId[] => {
    if (current().counts.first === 'open') return ['first'];
    const named = current().sheet.moments.map((moment) => moment.id);
    return momentIds.filter(
      (id) => named.includes(id) && id !== 'first' && id !== 'added' && isCountDue(current(), id),
    );
  };
  const [moment, setMoment] = createSignal<MomentId | undefined>(moments()[0]);
  const [reason, setReason] = createSignal('');
  const waive = () => {
    const chosen = moment();
    if (!chosen) return;
    const by = ['surgeon', 'circulator'] as const;
    void props.act({ type: 'waive', moment: chosen, reason: reason().trim(), by });
  };
  return (
    <>
      <p class="dialog-warning">
        {say`◆ The case then owes an X-ray and ends as not reconciled. What was not counted is said so on every page
          of the record.`}
      </p>
      <Choices
        label={say`Which count is left out`}
        choices={moments().map((id) => ({ id, name: momentName(current(), id) }))}
        chosen={moment()}
        onChoose={(id) => setMoment(momentIds.find((known) => known === id))}
      />
      <Field kind="text" label={say`Reason`} value={reason()} onInput={setReason} />
      <Button
        kind="danger"
        size={112}
        whyNot={reason().trim() && moment() ? undefined : say`Say which count, and why.`}
        onPress={waive}
      >
        {say`${current().team.surgeon} and ${current().team.circulator}: not counted`}
      </Button>
    </>
  );
}
