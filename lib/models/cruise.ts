/**
 * Money of longer flights on gear that takes cruise speed: the same trips at (1 - loss) of the speed last
 * 1 / (1 - loss) times as long.
 *
 * @param pricePerHour money for one flight hour.
 * @param loss cruise speed lost, as a share, 0 to below 1.
 * @param flightHours flight hours on the fastest gear.
 * @returns money for the hours that come on top.
 */
export function cruiseMoneyOf(pricePerHour: number, loss: number, flightHours: number): number {
  return (pricePerHour * flightHours * loss) / (1 - loss);
}
