/**
 * How many decimals a value may show, given its standard uncertainty in the unit shown: the
 * uncertainty keeps at most two significant digits (JCGM 100:2008, 7.2.6), two while they begin with
 * 10 to 29 and one above, so that the last digit shown is never much finer than what is known.
 *
 * @param u standard uncertainty in the unit shown; 0 or not finite supports no more than `most`
 * @param most decimals that are never exceeded, whatever the uncertainty
 */
export const decimalsFor = (u: number, most: number): number => {
  if (!(u > 0) || !Number.isFinite(u)) return u === 0 ? most : 0;
  const [digits = '', exponent = '0'] = u.toExponential(1).split('e');
  const significant = Number(digits) < 3 ? 2 : 1;
  return Math.min(most, Math.max(0, significant - 1 - Number(exponent)));
};
