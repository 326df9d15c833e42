import type { Command } from '#engine/case/events.ts';
import { peopleFrom } from '#engine/people.ts';
import type { Case } from '#engine/state.ts';
import { say } from '#words/say.ts';
import type { ToSign } from './asking.ts';

/**
 * Who stands for a command by PIN: agreeing a count, a specimen's label and its read back, asking to close,
 * declaring, amending and waiving. Undefined for all else, which is done with one tap.
 */
export function signersOf(current: Case, command: Command): ToSign | undefined {
  const { team } = current;
  const both = ['scrub', 'circulator'] as const;
  switch (command.type) {
    case 'agree': {
      const { running } = current.counts;
      const people = running ? [running.scrub, running.circulator] : both;
      return { words: say`Agree the count`, names: peopleFrom(team, command.by ?? people) };
    }
    case 'recount':
      return { words: say`Agree the recount`, names: peopleFrom(team, command.by ?? both) };
    case 'specimen':
      if (command.step === 'labelled')
        return {
          words: say`Confirm the label`,
          names: peopleFrom(team, [command.by ?? 'circulator']),
        };
      if (command.step === 'readBack')
        return {
          words: say`Confirm the read back`,
          names: peopleFrom(team, [command.by ?? 'scrub']),
        };
      return undefined;
    case 'close':
      return { words: say`Ask to close`, names: [team.surgeon] };
    case 'declare':
      return {
        words: say`Declare it unaccounted for`,
        names: peopleFrom(team, command.by ?? ['surgeon', 'circulator']),
      };
    case 'amend':
      return {
        words: say`Amend the record`,
        names: peopleFrom(team, command.by ?? ['scrub', 'circulator', 'surgeon']),
      };
    case 'waive':
      return {
        words: say`Leave out the count`,
        names: peopleFrom(team, command.by ?? ['surgeon', 'circulator']),
      };
    default:
      return undefined;
  }
}
