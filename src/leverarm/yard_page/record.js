// The file of a weigh day, written and read as the workbook does. What it does not know stays as it was.
(() => {
  const quoted = (cell) => (/[",\n\r]/.test(cell) ? '"' + cell.replaceAll('"', '""') + '"' : cell);
  // Text that looks like a formula gets an apostrophe, so that no spreadsheet runs it.
  const defused = (text) => (/^['=@+\-\t\r|]/.test(text) && Number.isNaN(Number(text)) ? "'" + text : text);
  const undone = (text) => (/^'['=@+\-|]/.test(text) ? text.slice(1) : text);

  const cells = (text, mark) => {
    const rows = [];
    let row = [], cell = '', inside = false, line = 1, begun = 1;
    for (let i = 0; i < text.length; i++) {
      const c = text[i];
      if (c === '\n') line += 1;
      if (inside) {
        if (c !== '"') cell += c;
        else if (text[i + 1] === '"') { cell += '"'; i += 1; } else inside = false;
      } else if (c === '"' && cell === '') inside = true;
      else if (c === mark) { row.push(cell); cell = ''; }
      else if (c === '\n' || c === '\r') {
        if (c === '\r' && text[i + 1] === '\n') continue;
        rows.push([begun, [...row, cell]]);
        row = []; cell = ''; begun = line;
      } else cell += c;
    }
    if (cell || row.length) rows.push([begun, [...row, cell]]);
    if (inside) throw new Error(`line ${begun}: a quote is opened and never closed; check its quotes`);
    return rows.filter(([, one]) => one.some((part) => part.trim()));
  };

  const write = (header, columns, rows) => [
    ...header.filter(([, value]) => value !== '' && value != null).map(([key, value]) => `${quoted(key)},${quoted(defused(String(value)))}`),
    '', columns.join(','),
    ...rows.map((row) => columns.map((name) => quoted(name === 'note' || name === 'set-up' ? defused(String(row[name] ?? '')) : String(row[name] ?? ''))).join(',')),
    '',
  ].join('\r\n');

  const read = (text, {format: [key, version], columns}) => {
    const plain = text.replace(/^\uFEFF/, '');
    const first = plain.split(/\r?\n/, 1)[0];
    const mark = [',', ';', '\t'].find((one) => first.toLowerCase().startsWith(key + one)) || ',';
    const lines = cells(plain, mark), told = new Map();
    if (!lines.length || lines[0][1][0].trim().toLowerCase() !== key || lines[0][1][1]?.trim() !== version)
      throw new Error(`the first line must be "${key},${version}"; this is no weigh day`);
    let at = 0;
    for (; at < lines.length; at++) {
      const [, row] = lines[at], name = row[0].trim().toLowerCase();
      if (columns.includes(name) || ['setup', 'set up', 'state'].includes(name)) break;
      if (!told.has(name)) told.set(name, undone((row[1] ?? '').trim()));
    }
    const [, names = []] = lines[at] || [];
    const clean = names.map((one) => one.trim().toLowerCase()).map((one) => (['setup', 'set up', 'state'].includes(one) ? 'set-up' : one));
    const rows = lines.slice(at + 1).map(([line, row]) => {
      if (row.slice(clean.length).some((one) => one.trim()))
        throw new Error(`line ${line}: ${row.length} cells where the header has ${clean.length}; a comma inside a cell needs quotes`);
      return {line, ...Object.fromEntries(clean.map((name, i) => [name, undone((row[i] ?? '').trim())]))};
    });
    return {told, rows, decimal: mark === ';' ? ',' : '.'};
  };
  window.leverarmRecord = {write, read};
})();
