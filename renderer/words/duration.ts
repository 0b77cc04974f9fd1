/** Seconds as `about 20 s`, `about 3 min`: a remaining time is a guess and must look like one. */
export function duration(seconds: number): string {
  if (seconds < 1.5) return 'a moment';
  if (seconds < 10) return `about ${Math.round(seconds)} s`;
  if (seconds < 90) return `about ${Math.round(seconds / 5) * 5} s`;
  return `about ${Math.round(seconds / 60)} min`;
}
