// What a spreadsheet puts on the clipboard: rows by line, cells by tab, quotes where they are needed.

/** @returns {string[][]} */
function cells(text) {
  const rows = [];
  let row = [];
  let cell = "";
  let quoted = false;
  for (let i = 0; i < text.length; i += 1) {
    const c = text[i];
    if (quoted) {
      if (c !== "\"") cell += c;
      else if (text[i + 1] === "\"") {
        cell += c;
        i += 1;
      } else quoted = false;
    } else if (c === "\"" && cell === "" && closes(text, i)) quoted = true;
    else if (c === "\t") {
      row.push(cell);
      cell = "";
    } else if (c === "\n" || c === "\r") {
      if (c === "\r" && text[i + 1] === "\n") i += 1;
      row.push(cell);
      rows.push(row);
      [row, cell] = [[], ""];
    } else cell += c;
  }
  if (cell !== "" || row.length > 0) {
    row.push(cell);
    rows.push(row);
  }
  return rows.filter((one) => one.some((word) => word.trim() !== ""));
}

// An inch mark is no quote: one that opens a cell is closed before a tab, a line's end, or the end.
function closes(text, from) {
  for (let i = from + 1; i < text.length; i += 1) {
    if (text[i] !== "\"") continue;
    if (text[i + 1] === "\"") i += 1;
    else return i + 1 === text.length || "\t\r\n".includes(text[i + 1]);
  }
  return false;
}

/** Which columns are meant: those of the first row where it names them, else from one column on. */
function columns(rows, known, shown, from) {
  const names = rows[0].map((word) => word.trim().toLowerCase().replace(/[ -]/g, "_"));
  const named = names.filter((name) => known.includes(name)).length;
  if (named > 0 && named === names.filter(Boolean).length) {
    return { columns: names, rows: rows.slice(1) };
  }
  return { columns: shown.slice(shown.indexOf(from)), rows };
}

/**
 * The changes a paste into a table asks for; nothing when one cell alone is pasted into.
 * @param {{file: string, known: string[], shown: string[], column: string, there: any[], at: number,
 *   preset: Record<string, string>}} into the rows that are there, and the one it begins at
 */
export function pasted(event, into) {
  const text = event.clipboardData?.getData("text/plain") ?? "";
  if (!/[\t\n\r]/.test(text.trim())) return null;
  const found = cells(text);
  if (found.length === 0) return null;
  const { columns: named, rows } = columns(found, into.known, into.shown, into.column);
  const changes = [];
  rows.forEach((row, i) => {
    const target = into.there[into.at + i];
    const pairs = row.map((value, c) => [named[c], value.trim()]).filter(([name]) => name);
    if (target) {
      for (const [column, value] of pairs) {
        changes.push({ op: "set", file: into.file, row: target.id, column, value, was: target.known[column] ?? "" });
      }
      return;
    }
    const said = Object.fromEntries(pairs.filter(([, value]) => value !== ""));
    if (Object.keys(said).length > 0) {
      changes.push({ op: "add", file: into.file, before: null, cells: { ...into.preset, ...said } });
    }
  });
  return { rows: rows.length, changes };
}
