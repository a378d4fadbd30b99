/** Standard normal distribution function; error below 2e-7 (Abramowitz & Stegun 7.1.26 has 1.5e-7 on erf). */
export function normalCdf(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const tail =
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429)))) *
    Math.exp(-x * x);
  return z >= 0 ? 1 - tail / 2 : tail / 2;
}

/** z of a probability, by Newton on {@link normalCdf} from a rational start (Abramowitz & Stegun 26.2.23). For 0 < p < 1. */
export function normalQuantile(p: number): number {
  const lower = Math.min(p, 1 - p);
  const t = Math.sqrt(-2 * Math.log(lower));
  let z = t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
  for (let i = 0; i < 2; i++) {
    const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
    if (density > 1e-12) z += (1 - normalCdf(z) - lower) / density;
  }
  return p < 0.5 ? -z : z;
}

/** z of the 95th percentile. */
export const Z95 = 1.6448536;
