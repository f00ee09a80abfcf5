// Lengths as the maker's tape has them. The server reads what is typed; this only shows.

/** A length of the plan, to the nearest mark of the tape. */
export function show(length, unit, fraction) {
  if (unit === "mm") return String(Math.round(length * 10) / 10);
  const parts = Math.round(Math.abs(length) * fraction);
  const whole = Math.floor(parts / fraction);
  let [over, under] = [parts % fraction, fraction];
  while (over && over % 2 === 0) [over, under] = [over / 2, under / 2];
  const sign = length < 0 && parts ? "-" : "";
  if (!over) return `${sign}${whole}`;
  return whole ? `${sign}${whole} ${over}/${under}` : `${sign}${over}/${under}`;
}
