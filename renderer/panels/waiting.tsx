import { run } from '../state/session.ts';

/** Said in place of findings that are not there. */
export function Waiting({ what }: { what: string }) {
  return (
    <p class="empty">
      {run.value
        ? `${what} will stand here as soon as the scout reaches them.`
        : `${what}: none yet. Press Scout to look for them.`}
    </p>
  );
}
