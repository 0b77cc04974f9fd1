import type { Signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { SECTORS } from '../../core/air/types.ts';

/** One wind at one part of the day. */
export interface WindCell {
  part: string;
  wind: string;
}

/** How a cell is shown: by a sign and its word, never by colour alone. */
export interface WindMark {
  sign: ComponentChildren;
  /** The sign in words, for who cannot see it. */
  says: string;
  /** A small figure beside it, such as a share. */
  figure?: string | null;
  good?: boolean;
}

/** The sixteen winds and the calm down, parts of the day across; a cell opens what is told of it under its row. */
export function WindGrid<P extends string>(props: {
  caption: string;
  parts: readonly P[];
  chosen: Signal<WindCell | null>;
  /** Null leaves the cell empty. */
  mark(part: P, wind: string): WindMark | null;
  told(part: P, wind: string): ComponentChildren;
  legend: string;
}) {
  const { parts, chosen } = props;
  const now = chosen.value;
  return (
    <>
      <div class="table-scroll">
        <table class="winds">
          <caption>{props.caption}</caption>
          <thead>
            <tr>
              <th scope="col">Wind</th>
              {parts.map((part) => (
                <th key={part} scope="col">
                  {part}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {[...SECTORS, 'calm'].flatMap((wind) => {
              const open = parts.find(
                (part) => now?.wind === wind && now.part === part && props.mark(part, wind),
              );
              return [
                <tr key={wind}>
                  <th scope="row">{wind}</th>
                  {parts.map((part) => {
                    const mark = props.mark(part, wind);
                    return (
                      <td key={part}>
                        {mark && <CellButton {...{ part, wind, mark, chosen }} open={part === open} />}
                      </td>
                    );
                  })}
                </tr>,
                open !== undefined && (
                  <tr key={`${wind} told`}>
                    <td colSpan={1 + parts.length}>
                      <div class="told" role="status">
                        {props.told(open, wind)}
                      </div>
                    </td>
                  </tr>
                ),
              ];
            })}
          </tbody>
        </table>
      </div>
      <p class="legend-unit">{props.legend}</p>
    </>
  );
}

function CellButton(props: WindCell & { mark: WindMark; open: boolean; chosen: Signal<WindCell | null> }) {
  const { part, wind, mark, open, chosen } = props;
  return (
    <button
      type="button"
      class={mark.good ? 'wind-case clean' : 'wind-case'}
      aria-expanded={open}
      aria-label={`${wind}, ${part}: ${mark.says}`}
      onClick={() => {
        chosen.value = open ? null : { part, wind };
      }}
    >
      <span aria-hidden="true">{mark.sign}</span>
      {mark.figure && <span class="unit"> {mark.figure}</span>}
    </button>
  );
}
