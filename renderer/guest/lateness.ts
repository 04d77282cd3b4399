/**
 * How late a view comes, in seconds, though the clocks of bench and phone are not set alike: by how much
 * its journey took longer than the quickest before it. A network that holds a view back for a second thus
 * shows nothing as new that is a second old.
 */

/** Two quartz clocks drift apart by less than this, s a second; common practice, no source. */
const DRIFT = 2e-4;

/** Takes when a view came, by the phone's clock, and was made, by the bench's; both in seconds. */
export const createLateness = (): ((cameAt: number, madeAt: number) => number) => {
  let quickest = Infinity;
  let last = 0;
  return (cameAt, madeAt) => {
    quickest = Math.min(cameAt - madeAt, quickest + DRIFT * (cameAt - last));
    last = cameAt;
    return cameAt - madeAt - quickest;
  };
};
