/**
 * Where a worker's entry file lies: beside its source when Node runs the sources, flat in the bundle folder
 * when it runs the bundle.
 */
export function workerUrl(name: string, from: string): URL {
  return new URL(from.endsWith('.ts') ? `./${name}.ts` : `./${name}.js`, from);
}
