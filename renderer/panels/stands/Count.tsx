/** A number with its source; `empty` may be left blank, which is said to mean something. */
export function Count(props: {
  id: string;
  label: string;
  unit: string;
  value: number | null;
  least?: number;
  most: number;
  source: string;
  empty?: boolean;
  whole?: boolean;
  put(value: number | null): void;
}) {
  const { id, value, least = 0, most } = props;
  return (
    <li class="assumption">
      <label for={id}>{props.label}</label>
      <span class="assumption-value">
        <input
          id={id}
          type="number"
          step={props.whole ? 1 : 'any'}
          min={least}
          max={most}
          value={value ?? ''}
          key={String(value)}
          placeholder={props.empty ? 'not entered' : undefined}
          aria-describedby={`${id}-source`}
          onChange={(event) => {
            const { value: text, valueAsNumber: typed } = event.currentTarget;
            if (text.trim() === '' && props.empty) props.put(null);
            else if (typed >= least && typed <= most && (!props.whole || Number.isInteger(typed)))
              props.put(typed);
            else event.currentTarget.value = value === null ? '' : String(value);
          }}
        />
        <span class="unit">{props.unit}</span>
      </span>
      <span class="assumption-source" id={`${id}-source`}>
        Source: {props.source}.
      </span>
    </li>
  );
}
