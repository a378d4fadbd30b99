// What a run found, as numbers and as the lines of a table.

/** The 95 % point of the normal distribution, both sides. */
const Z = 1.959964;

/**
 * Wilson's interval for a share, in which the true share lies 19 times out of 20 (E. B. Wilson, Journal of the American Statistical
 * Association 22, 1927). It is for a sample from very many mutants, and so a little too wide for a sample that is a good part of all.
 */
export function interval(killed, tried) {
  if (tried === 0) return [0, 1];
  const share = killed / tried;
  const middle = share + (Z * Z) / (2 * tried);
  const half = Z * Math.sqrt((share * (1 - share)) / tried + (Z * Z) / (4 * tried * tried));
  const whole = 1 + (Z * Z) / tried;
  return [(middle - half) / whole, (middle + half) / whole];
}

const percent = (share) => `${(share * 100).toFixed(1)} %`;

/** One line of the table in docs/testing.md. `outcomes` has for each mutant that was tried what became of it. */
export function row(path, { all, seed, outcomes }) {
  const count = (status) => outcomes.filter((one) => one.status === status).length;
  const [tried, killed, late] = [outcomes.length, count('Killed'), count('Timeout')];
  const [low, high] = interval(killed + late, tried);
  const cells = [`\`${path}\``, all, tried, seed, killed, late, tried - killed - late];
  return `| ${cells.join(' | ')} | ${percent((killed + late) / Math.max(tried, 1))} | ${percent(low)} to ${percent(high)} |`;
}
