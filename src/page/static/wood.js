// The colour of wood by its tone, from palest to darkest.

const STOPS = [[0, [243, 226, 190]], [2.5, [229, 196, 145]], [5, [197, 148, 96]],
  [7.5, [141, 92, 55]], [10, [82, 51, 32]]];

function mixed(tone) {
  const at = Math.min(10, Math.max(0, tone));
  for (let i = 1; i < STOPS.length; i += 1) {
    const [low, from] = STOPS[i - 1];
    const [high, to] = STOPS[i];
    if (at <= high) {
      const share = (at - low) / (high - low);
      return from.map((part, c) => Math.round(part + (to[c] - part) * share));
    }
  }
  return STOPS[STOPS.length - 1][1];
}

/** The colour of a board. */
export function wood(tone) {
  return `rgb(${mixed(tone).join(",")})`;
}

/** The colour of what is written on it. */
export function ink(tone) {
  return tone > 5.8 ? "#fff8ea" : "#23180d";
}

/** The words for tones, as boards.csv takes them, each with a number. */
export const TONES = [["very pale", 1], ["pale", 2], ["light", 3], ["medium light", 4],
  ["medium", 5], ["medium dark", 6], ["dark", 7], ["very dark", 9]];
