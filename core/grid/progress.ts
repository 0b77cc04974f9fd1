/**
 * How a long kernel reports the share done, 0 to 1, and learns that it should stop.
 * Calling it throws `Cancelled` when the run was cancelled.
 */
export type Progress = (fraction: number) => void;

export const silent: Progress = () => {};

/** Maps a kernel's own 0..1 onto a part of a longer job. */
export const part =
  (progress: Progress, from: number, to: number): Progress =>
  (fraction) =>
    progress(from + (to - from) * fraction);
