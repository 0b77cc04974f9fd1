/** A number in a range; what is typed outside it is put back. */
export function NumberField(props: {
  id: string;
  label: string;
  value: number;
  least?: number;
  most: number;
  whole?: boolean;
  put(value: number): void;
}) {
  const { id, value, least = 0, most } = props;
  return (
    <label class="length" for={id}>
      <span>{props.label}</span>
      <input
        class="short"
        id={id}
        type="number"
        step={props.whole ? 1 : 'any'}
        min={least}
        max={most}
        value={value}
        onChange={(event) => {
          const typed = event.currentTarget.valueAsNumber;
          if (typed >= least && typed <= most && (!props.whole || Number.isInteger(typed))) props.put(typed);
          else event.currentTarget.value = String(value);
        }}
      />
    </label>
  );
}
