// What a spreadsheet puts on the clipboard: rows by line, cells by tab, quotes where they are needed.

/** @returns {string[][]} */
export function cells(text) {
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
export function columns(rows, known, shown, from) {
  const names = rows[0].map((word) => word.trim().toLowerCase().replace(/[ -]/g, "_"));
  const named = names.filter((name) => known.includes(name)).length;
  if (named > 0 && named === names.filter(Boolean).length) {
    return { columns: names, rows: rows.slice(1) };
  }
  return { columns: shown.slice(shown.indexOf(from)), rows };
}
