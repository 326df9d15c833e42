import { Button } from '#parts/Button.tsx';
import { Mark } from '#parts/Mark.tsx';
import { say } from '#words/say.ts';
import '#parts/Notice.css';
import { useSession } from './useSession.ts';

/** Another window writes the case: this one shows it, and can be made the one that writes. */
export function FollowsNotice() {
  const { session } = useSession();
  return (
    <div class="notice" data-kind="said" role="status">
      <span class="notice-mark">
        <Mark shape="held" />
      </span>
      <p class="notice-words">
        <strong>{say`This window follows.`}</strong> {say`Another window writes this case.`}{' '}
        <span class="notice-do">{say`Write here only if nobody works at the other one.`}</span>
      </p>
      <Button kind="plain" onPress={() => void session.takeOver()}>
        {say`Write here`}
      </Button>
    </div>
  );
}
