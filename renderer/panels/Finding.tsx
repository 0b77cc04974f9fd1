import type { ComponentChildren } from 'preact';
import { formatShare } from '../../core/features/units.ts';
import type { Spread } from '../../core/travel/types.ts';

/** One line of the notebook: a flag, a heading, a sentence; press it to go there. */
export function Finding(props: {
  id: string;
  flag: ComponentChildren;
  flagClass?: string;
  title: string;
  children?: ComponentChildren;
  onPick(): void;
}) {
  return (
    <li>
      <button type="button" class="finding" data-finding={props.id} onClick={props.onPick}>
        <span class={`flag ${props.flagClass ?? ''}`}>{props.flag}</span>
        <span class="finding-words">
          <span class="finding-title">{props.title}</span>
          <span class="finding-text">{props.children}</span>
        </span>
      </button>
    </li>
  );
}

/** The share with its band, drawn to one scale down the list. */
export function SpreadBar({
  share,
  spread,
  most,
}: {
  share: number;
  spread: Spread | undefined;
  most: number;
}) {
  const x = (value: number) => 2 + (96 * Math.min(value, most)) / most;
  const low = x(spread?.low ?? share);
  const high = x(spread?.high ?? share);
  return (
    <svg class="spread" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
      <line class="spread-axis" x1="2" x2="98" y1="4" y2="4" />
      <rect class="spread-band" x={low} width={Math.max(high - low, 0.6)} y="1.5" height="5" />
      <line class="spread-mark" x1={x(share)} x2={x(share)} y1="0" y2="8" />
    </svg>
  );
}

export const spreadLabel = (share: number, spread: Spread | undefined): string =>
  spread && spread.runs > 1
    ? `${formatShare(share)} (${formatShare(spread.low)} to ${formatShare(spread.high)})`
    : formatShare(share);

export function Section(props: { title: string; children: ComponentChildren; count?: number }) {
  return (
    <section class="section">
      <h3>
        {props.title}
        {props.count !== undefined && <span class="count"> {props.count}</span>}
      </h3>
      {props.children}
    </section>
  );
}

/** A plain list of sentences; nothing at all when there are none. */
export function Lines(props: {
  title: string;
  lines: readonly string[];
  kind: 'doubts' | 'missing' | 'caution' | 'plain';
}) {
  if (props.lines.length === 0) return null;
  return (
    <section class={`lines ${props.kind}`}>
      <h3>{props.title}</h3>
      <ul>
        {props.lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </section>
  );
}
