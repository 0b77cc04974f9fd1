import { cpus } from 'node:os';

/** Seconds of processor time the whole machine has spent. */
export const machineSeconds = (): number =>
  cpus().reduce((sum, { times }) => sum + (times.user + times.nice + times.sys + times.irq) / 1000, 0);
