import { fromTyped, type LengthKind, lengthUnit, toTyped } from '../../core/features/units.ts';
import { units } from '../state/session.ts';

/** A length typed in the person's units; `set` gets metres, and only what lies in the range. */
export function LengthField(props: {
  id: string;
  label: string;
  kind: LengthKind;
  metres: number;
  least: number;
  most: number;
  set(metres: number): void;
}) {
  const { id, kind, metres, least, most } = props;
  const u = units.value;
  return (
    <label class="length" for={id}>
      <span>
        {props.label}, {lengthUnit(kind, u)}
      </span>
      <input
        id={id}
        type="number"
        step="any"
        min={toTyped(least, u, kind)}
        max={toTyped(most, u, kind)}
        value={Number(toTyped(metres, u, kind).toFixed(1))}
        onChange={(event) => {
          const typed = event.currentTarget.valueAsNumber;
          const next = fromTyped(typed, u, kind);
          if (Number.isFinite(next) && next >= least && next <= most) props.set(next);
          else event.currentTarget.value = String(Number(toTyped(metres, u, kind).toFixed(1)));
        }}
      />
    </label>
  );
}
