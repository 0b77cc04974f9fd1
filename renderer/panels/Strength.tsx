/** How strongly a picture is laid over what lies below it. */
export function Strength({
  of,
  opacity,
  change,
}: {
  of: string;
  /** 0..1. */
  opacity: number;
  change(opacity: number): void;
}) {
  return (
    <input
      class="opacity"
      type="range"
      min="0"
      max="100"
      step="5"
      value={Math.round(opacity * 100)}
      aria-label={`Strength of ${of}, percent`}
      onInput={(event) => change(Number(event.currentTarget.value) / 100)}
    />
  );
}
