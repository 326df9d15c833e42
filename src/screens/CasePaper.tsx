import { PaperPage } from './PaperPage.tsx';
import { useCase, useSession } from './useSession.ts';

/** The case that is on, as a form to go on with by hand. */
export function CasePaper() {
  const { session } = useSession();
  const current = useCase();
  return (
    <PaperPage
      sheet={current().sheet}
      current={current()}
      at={session.now()}
      onBack={() => session.show({ name: 'frame' })}
    />
  );
}
