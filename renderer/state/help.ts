import { signal } from '@preact/signals';

/** Whether the page that explains the stage is open. */
export const helpOpen = signal(false);
