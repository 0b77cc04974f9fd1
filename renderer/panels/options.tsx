import { SECTORS } from '../../core/air/types.ts';

/** Choices of a list, by what bears a name. */
export function NamedOptions({ of }: { of: readonly { id: string; name: string }[] }) {
  return of.map(({ id, name }) => (
    <option key={id} value={id}>
      {name}
    </option>
  ));
}

/** The sixteen sectors a wind comes from, by the degrees of their middle. */
export function SectorOptions() {
  return SECTORS.map((name, k) => (
    <option key={name} value={k * 22.5}>
      {name}
    </option>
  ));
}
