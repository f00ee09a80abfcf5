// The marks of a plan, worked out from plan.json alone.

/** Each board's name, its copy, and the set of its marks, written in `unit`. */
export function boards(plan, unit) {
  return plan.boards.map((board) => {
    const numbers = [];
    for (const section of board.sections) {
      numbers.push(section.from, section.to);
      for (const strip of section.strips) {
        numbers.push(strip.low, strip.high);
        for (const blank of strip.blanks) {
          numbers.push(blank.from, blank.to);
          if (blank.low !== strip.low) numbers.push(blank.low);
          if (blank.high !== strip.high) numbers.push(blank.high);
        }
      }
    }
    return { name: board.board, copy: board.copy, marks: new Set(numbers.map((number) => write(number, plan.unit, unit))) };
  });
}

function write(number, from, to) {
  const mm = from === "inch" ? number * 25.4 : number;
  return to === "mm" ? tenths(mm) : sixteenths(mm / 25.4);
}

function tenths(mm) {
  return String(Math.round(mm * 10 + 1e-6) / 10);
}

function sixteenths(inches) {
  let top = Math.round(inches * 16 + 1e-6);
  const whole = Math.floor(top / 16);
  top -= whole * 16;
  let bottom = 16;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  if (top === 0) return `${whole}`;
  return whole === 0 ? `${top}/${bottom}` : `${whole} ${top}/${bottom}`;
}
