import type { Trouble } from '../../electron/service/contract.ts';

/**
 * Any rejection as the trouble to show. Hosts reject with `{ trouble }` (structurally, so that the window need not
 * load the message checker for one class); anything else is a fault of ours or a lost connection.
 */
export function troubleOf(reason: unknown): Trouble {
  if (typeof reason === 'object' && reason !== null && 'trouble' in reason && isTrouble(reason.trouble))
    return reason.trouble;
  const message = reason instanceof Error ? reason.message : String(reason);
  return {
    kind: 'fault',
    message,
    file: null,
    fix: 'Try again. If it keeps happening, close the window and start Hollowgate anew.',
    question: null,
  };
}

/** An Error that carries a trouble the way the hosts' rejections do. */
export const rejection = (trouble: Trouble): Error & { trouble: Trouble } =>
  Object.assign(new Error(trouble.message), { trouble });

function isTrouble(value: unknown): value is Trouble {
  return (
    typeof value === 'object' &&
    value !== null &&
    'kind' in value &&
    'message' in value &&
    typeof value.message === 'string' &&
    'fix' in value
  );
}
