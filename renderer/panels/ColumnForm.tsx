import type { QuestionShown } from '../state/questions.ts';
import { columnsAnswer } from '../words/columns.ts';
import { sentence } from '../words/sentences.ts';

type Columns = NonNullable<QuestionShown['columns']>;
type Role = Columns['roles'][number];

/** What each column of a table holds: its first rows, and one list a role with the guess chosen. */
export function ColumnForm({ asked, columns }: { asked: QuestionShown; columns: Columns }) {
  return (
    <form
      key={columns.file}
      class="columns"
      onSubmit={(event) => {
        event.preventDefault();
        const picked = new FormData(event.currentTarget);
        asked.settle(
          columnsAnswer(columns.roles.map(({ role }) => [role, String(picked.get(role) ?? '')] as const)),
        );
      }}
    >
      <p>
        {columns.file} is a table of wind whose columns cannot be told by their names. Say what they hold; its
        first rows are below.
      </p>
      <Sample header={columns.header} rows={columns.sample} />
      <div class="column-roles">
        {columns.roles.map((role) => (
          <RoleField key={role.role} role={role} columns={columns} />
        ))}
      </div>
      <p class="column-trouble" role="alert">
        {columns.trouble && !asked.trying ? sentence(`That does not work: ${columns.trouble}`) : ''}
      </p>
      <div class="answers">
        <button type="submit" class="strong" disabled={asked.trying}>
          {asked.trying ? 'Reading…' : 'Read the file'}
        </button>
        {asked.choices.map(({ value, label }) => (
          <button
            key={value}
            type="button"
            class="quiet"
            disabled={asked.trying}
            onClick={() => asked.settle(value)}
          >
            {label}
          </button>
        ))}
        <button type="button" class="quiet" disabled={asked.trying} onClick={() => asked.settle(null)}>
          Cancel
        </button>
      </div>
    </form>
  );
}

function Sample({ header, rows }: { header: readonly string[]; rows: readonly string[][] }) {
  return (
    <div class="table-scroll">
      <table class="column-sample">
        <thead>
          <tr>
            {header.map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row, at) => (
            <tr key={`${at} ${row[0]}`}>
              {header.map((name, k) => (
                <td key={name}>{row[k] ?? ''}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function RoleField({
  role: { role, label, needed, guess, choices },
  columns,
}: {
  role: Role;
  columns: Columns;
}) {
  const offered = choices ?? columns.header.map((name) => ({ value: name, label: name }));
  return (
    <label class="length" for={`column-${role}`}>
      <span>{label}</span>
      <select id={`column-${role}`} name={role} required={needed}>
        <option value="" selected={guess === null}>
          {needed ? 'choose…' : choices ? 'not needed here' : 'not in this file'}
        </option>
        {offered.map(({ value, label: words }) => (
          <option key={value} value={value} selected={value === guess}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}
