// The yard page: its screens, its boxes, its files. Every sentence about a number, every drawing and every formula
// is data that Python recorded; stage.js works it out.
(() => {
  const {worker, write, fill, printed, typed} = window.leverarmStage, record = window.leverarmRecord;
  const toldIn = (name) => JSON.parse(document.getElementById(name).textContent), root = document.getElementById('yard');
  const all = toldIn('common');
  const STORE = 'leverarm-yard-page', FILE = 'weigh day';
  const WHEELS = ['front_left', 'front_right', 'rear_left', 'rear_right'], ROWS = ['on', 'off'];
  const PIECES = Object.keys(all.setups), NO_SHARE = 'This browser shares no files: it was put into the downloads.';
  // What the first screen does not need is read when it is first asked for.
  const once = (make) => { let made; return () => (made ??= make()); };
  const dataOf = Object.fromEntries(['lb', 'kg'].map((system) => [system, once(() => toldIn(system))]));
  const runOf = Object.fromEntries(['lb', 'kg'].map((system) => [system, once(() => {
    const data = dataOf[system]();
    const rows = data.rows.split(' ').map((one) => [all.letters[one[0]], ...one.slice(1).split('.').map((ref) => parseInt(ref, 36))]);
    return worker({...data, rows});
  })]));

  // A day: what was told. Numbers stay as typed; `state` is what the rows take.
  const today = () => { const d = new Date(); return [d.getFullYear(), d.getMonth() + 1, d.getDate()].map((n) => String(n).padStart(2, '0')).join('-'); };
  const fresh = (system) => ({system, date: today(), state: {...all.start[system]}, boxes: {}, chosen: {}, lines: {}, kept: [], others: []});
  let day = fresh('lb'), stands, places, here = 'machine', stored = [], storage = true;

  const $ = (what, from = root) => from.querySelector(what), $$ = (what, from = root) => [...from.querySelectorAll(what)];
  const text = (name, words) => $$(`[data-text="${name}"]`).forEach((el) => { el.textContent = words; });

  const named = () => text('machine', day.lines.machine || 'Yard page');

  // What is not shown waits until it is: a screen until its turn, the sheet until it is printed.
  const draw = (everything = false) => {
    wake();
    const v = runOf[day.system]()(day.state), signs = dataOf[day.system]().signs;
    for (const place of places) {
      const {el, name, pieces, old, on} = place;
      if (on !== here && !everything) continue;
      const words = write(pieces, v, signs);
      if (words === old) continue;
      place.old = words;
      fill(el, name, words);
    }
    named();
    text('date', day.date);
    text('mowing', day.lines.mower ? ` Mower: ${day.lines.mower}.` : ' Mower not told.');
    for (const el of $$('[data-line-text]')) {
      el.textContent = day.lines[el.dataset.lineText] || '';
      el.classList.toggle('yp-blank', !el.textContent);
    }
  };

  const refuse = (el, words) => {
    $('.yp-refusal', el.closest('.yp-box')).textContent = words;
    el.setAttribute('aria-invalid', String(Boolean(words)));
  };
  // What a typed number may mean, as the workbook reads it: thousands first, else a decimal comma.
  const meanings = (words, unit) => {
    const plain = words.trim().replaceAll('\u00a0', ' ').replaceAll('\u2212', '-');
    const comma = /^-?\d+,\d+( ?\S+)?$/.test(plain) ? [typed(plain.replace(',', '.'), unit)] : [];
    return [typed(plain, unit), ...comma].filter((x) => x !== null);
  };
  const take = (el) => {
    const name = el.dataset.in, words = el.value.trim(), {low, high, unit, refusal} = el.dataset;
    day.boxes[name] = el.value;
    const set = (x, known) => { day.state[name] = x; day.state[name === 'claim' ? 'claim_known' : `has_${name}`] = known; };
    if (!words) {
      refuse(el, '');
      set(all.start[day.system][name], 0);
      // A claim may be chosen instead of typed.
      if (name === 'claim') Object.assign(day.state, JSON.parse($('input[name=claim]:checked')?.dataset.set || '{}'));
      return draw(), true;
    }
    const found = meanings(words, unit).find((x) => x >= Number(low) && x <= Number(high));
    const step = day.state.step_known ? day.state.step : 0;
    const two = /^(on|off)_/.test(name) && step >= 1 && /^\d{1,3}\.\d{3}$/.test(words);
    if (found === undefined || two) {
      refuse(el, `“${words.slice(0, 40)}” was typed. ${two ? 'It could be two numbers: type it without a mark.' : refusal}`);
      set(all.start[day.system][name], 0);
      return draw(), false;
    }
    refuse(el, '');
    set(found, 1);
    draw();
    return true;
  };

  const show = (name, focus = true) => {
    wake();
    here = name;
    for (const el of $$('[data-screen]')) el.hidden = el.dataset.screen !== name;
    text('needed', '');
    text('done', '');
    if (name === 'machine') list();
    draw();
    window.scrollTo(0, 0);
    if (focus) $(`#yp-${name}`)?.focus({preventScroll: true});
  };

  const setChips = () => {
    for (const el of $$('input[type=radio]')) {
      const sets = Object.entries(JSON.parse(el.dataset.set));
      el.checked = el.name === 'units' ? el.value === String(Number(day.system === 'kg'))
        : el.name === 'claim' ? day.chosen.claim === el.value : sets.every(([name, x]) => day.state[name] === x);
    }
  };
  const standing = (system) => {
    const marked = new Map($$('[data-b]').map((el) => [Number(el.dataset.b), el]));
    places = dataOf[system]().bindings.map(([mark, name, pieces]) => {
      const el = marked.get(mark);
      return {el, name, pieces, old: null, on: el.closest('[data-screen]')?.dataset.screen};
    });
    stands = system;
  };
  // The first screen stands in the file; the others come beside it before anything is drawn.
  const wake = () => {
    if (stands) return;
    root.firstElementChild.insertAdjacentHTML('beforeend', dataOf[day.system]().markup[1]);
    standing(day.system);
    setChips();
  };
  const mount = () => {
    wake();
    if (stands !== day.system) {
      root.firstElementChild.innerHTML = dataOf[day.system]().markup.join('');
      standing(day.system);
    }
    for (const el of $$('[data-in]')) { el.value = day.boxes[el.dataset.in] ?? ''; refuse(el, ''); }
    for (const el of $$('[data-line]')) el.value = day.lines[el.dataset.line] ?? '';
    setChips();
    draw();
    for (const el of $$('[data-in]')) if (el.value.trim()) take(el);
  };
  const listen = () => {
    root.addEventListener('click', ({target}) => { const el = target.closest('button'); if (el) press(el); });
    root.addEventListener('change', ({target: el}) => {
      if (el.dataset.in) take(el);
      else if (el.type === 'radio') choose(el);
      else if (el.dataset.do === 'open') open(el);
    });
    root.addEventListener('input', ({target: el}) => {
      if (el.dataset.line) { day.lines[el.dataset.line] = el.value.trim(); draw(); }
      if (el.dataset.in && (el.getAttribute('aria-invalid') === 'true' || meanings(el.value, el.dataset.unit).length)) take(el);
    });
    root.addEventListener('keydown', (event) => {
      const el = event.target, screen = el.closest('[data-screen]');
      if (event.key !== 'Enter' || !el.dataset.in) return;
      const boxes = $$('[data-in]', screen).filter((one) => one.offsetParent);
      (boxes[boxes.indexOf(el) + 1] || $('.yp-go', screen)).focus();
    });
  };

  const choose = (el) => {
    if (el.name === 'units') {
      const system = el.value === '1' ? 'kg' : 'lb';
      if (Object.values(day.boxes).some((words) => words.trim())) {
        text('storage', `Numbers were typed in ${day.system}. Begin a new machine to weigh in ${system}; what was typed stays.`);
        $$('input[name=units]').forEach((one) => { one.checked = one.value === String(Number(day.system === 'kg')); });
        return;
      }
      day = {...fresh(system), lines: day.lines};
      mount();
      show('machine', false);
      $(`input[name=units][value="${el.value}"]`).focus();
      return;
    }
    day.chosen[el.name] = el.value;
    Object.assign(day.state, JSON.parse(el.dataset.set));
    const box = $('[data-in=claim]');
    if (el.name === 'claim') {
      if (day.state.claim_known) { box.value = ''; day.boxes.claim = ''; refuse(box, ''); } else if (box.value) take(box);
    }
    draw();
  };

  const press = (el) => {
    if (el.dataset.do && ACTS[el.dataset.do]) ACTS[el.dataset.do](el);
    if (el.dataset.go === undefined) return;
    const bad = $$('[data-in]', el.closest('[data-screen]')).filter((one) => one.offsetParent && !take(one));
    const forward = !['yp-back', 'yp-name'].includes(el.className);
    if (forward && bad.length) { bad[0].focus(); return; }
    const to = el.dataset.go;
    if (to) show(to);
    else if (el.dataset.needs) text('needed', el.dataset.needs);
  };

  // Two boxes, or two rows of boxes, trade what was typed.
  const trade = (a, b) => {
    [day.boxes[a], day.boxes[b]] = [day.boxes[b] ?? '', day.boxes[a] ?? ''];
    for (const name of [a, b]) { const el = $(`[data-in="${name}"]`); el.value = day.boxes[name]; take(el); }
  };
  const swap = (which) => {
    if (which === 'rows') WHEELS.forEach((wheel) => trade(`on_${wheel}`, `off_${wheel}`));
    else for (const row of which === 'both' ? ROWS : [which])
      for (const side of ['left', 'right']) trade(`${row}_front_${side}`, `${row}_rear_${side}`);
  };

  const blob = (words, kind) => new Blob([words], {type: kind});
  const download = (name, what) => {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(what);
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
    text('done', `${name}: ${NO_SHARE}`);
  };
  const share = async (name, words, kind) => {
    const file = new File([words], name, {type: kind});
    if (!navigator.canShare?.({files: [file]})) return download(name, blob(words, kind));
    try { await navigator.share({files: [file], title: name}); text('done', `${name} was handed to the phone to share.`); }
    catch (why) { if (why.name !== 'AbortError') download(name, blob(words, kind)); }
  };
  const fileName = () => (day.lines.machine || 'machine').normalize('NFKD').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '') || 'machine';

  const copies = () => draw(true) || $$('[data-copy]').forEach((el) => {
    el.replaceChildren($(`[data-screen="${el.dataset.copy}"] svg`).cloneNode(true));
  });
  const sheet = () => {
    copies();
    const style = document.querySelector('style').textContent, page = $('[data-sheet-of]').cloneNode(true);
    $$('[hidden]', page).forEach((el) => el.remove());
    return `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>What came off the front axle</title><style>${style}</style></head><body class="yp-alone"><main class="st yp">${page.outerHTML}</main></body></html>`;
  };

  const shown = (x) => String(Number(x.toPrecision(12)));
  const told = () => {
    const {state, system} = day, length = system === 'lb' ? 'in' : 'm';
    const placed = state.placed_known ? all.placings[state.one_set ? 0 : 1] : '';
    const mine = [
      all.format, ['machine', day.lines.machine || 'machine'], ['date', day.date], ['units', system],
      ['wheelbase', `${shown(state.wheelbase)} ${length}`], ['model', day.lines.model], ['serial number', day.lines.serial],
      ['hours', day.lines.hours], ['mower', day.lines.mower],
      ['scales step', state.step_known ? `${shown(state.step)} ${system}` : ''],
      ['scales accuracy', state.accuracy_known ? `${shown(state.accuracy)} %` : ''], ['scales placed', placed],
      ['scales ground', placed && state.one_set ? all.grounds[state.raised ? 0 : 1] : ''],
      ['all else unchanged', {1: 'yes', 2: 'no'}[state.same] || ''],
    ];
    const named = new Set(mine.map(([key]) => key));
    return [...mine, ...day.kept.filter(([key]) => !named.has(key))];
  };
  const csv = () => {
    const names = all.setups[PIECES[day.state.piece]];
    const rows = ROWS.map((row, n) => {
      const out = {'set-up': names[n], repeat: 1, unit: day.system};
      for (const axle of ['front', 'rear']) {
        const [left, right] = ['left', 'right'].map((side) => (day.state[`has_${row}_${axle}_${side}`] ? shown(day.state[`${row}_${axle}_${side}`]) : ''));
        if (left !== '' && right !== '') { out[`${axle} left`] = left; out[`${axle} right`] = right; } else out[axle] = left + right;
      }
      return out;
    }).filter((one, n) => WHEELS.some((wheel) => day.state[`has_${ROWS[n]}_${wheel}`]));
    return record.write(told(), all.columns, [...rows, ...day.others]);
  };

  const PATTERN = /^([\d.,]+) ?(.*)$/;
  const KEYS = {model: 'model', 'serial number': 'serial', hours: 'hours', mower: 'mower', machine: 'machine'};
  const taken = (words) => {
    const {told: head, rows, decimal} = record.read(words, all);
    const system = rows[0]?.unit === 'kg' || (!rows.length && head.get('units') === 'kg') ? 'kg' : 'lb';
    const next = {...fresh(system), date: head.get('date') || today()};
    const units = {lb: {length: 'in', weight: 'lb'}, kg: {length: 'm', weight: 'kg'}}[system];
    const number = (key, unit) => {
      const found = PATTERN.exec(head.get(key) || '');
      if (!found) return null;
      const value = Number(found[1].replace(',', decimal === ',' ? '.' : ''));
      if (!Number.isFinite(value) || (found[2] && found[2] !== unit)) throw new Error(`${key}: “${head.get(key)}” was read; this page reads a number of ${unit}; open the file in the workbook`);
      return value;
    };
    for (const [key, name] of Object.entries(KEYS)) if (head.get(key)) next.lines[name] = head.get(key);
    const base = number('wheelbase', units.length);
    if (base !== null) next.boxes.wheelbase = shown(base);
    for (const [key, name, unit] of [['scales step', 'step', units.weight], ['scales accuracy', 'accuracy', '%'], ['scales limit', 'limit', units.weight], ['wheelbase error', 'tape', units.length]]) {
      const value = number(key, unit);
      if (value === null) continue;
      next.state[name] = value;
      if (name === 'step' || name === 'accuracy') next.state[`${name}_known`] = 1;
    }
    const placed = head.get('scales placed');
    if (placed) Object.assign(next.state, {placed_known: 1, one_set: Number(placed === all.placings[0]), raised: Number(placed === all.placings[0] && head.get('scales ground') === all.grounds[0])});
    next.state.same = {yes: 1, no: 2}[head.get('all else unchanged')] || 0;
    const key = (name) => name.toLowerCase().split('+').map((one) => one.trim()).sort().join('+');
    const piece = PIECES.findIndex((one) => all.setups[one].every((name) => rows.some((row) => key(row['set-up'] || '') === key(name))));
    if (rows.length && piece < 0) throw new Error('no two of its rows differ by a bucket, a loader frame or a whole loader; open it in the workbook');
    const used = new Set();
    if (piece >= 0) {
      next.state.piece = piece;
      next.chosen.piece = String(piece);
      ROWS.forEach((name, n) => {
        const own = rows.filter((row) => key(row['set-up'] || '') === key(all.setups[PIECES[piece]][n]));
        if (own.some((row) => row.repeat && row.repeat !== '1')) throw new Error('a set-up was weighed more than once; the workbook takes repeats, this page one of each');
        const row = own[own.length - 1];
        own.forEach((one) => used.add(one));
        if (row.unit !== system) throw new Error(`line ${row.line}: unit “${row.unit}”; all readings must be in ${system}`);
        for (const axle of ['front', 'rear']) {
          if (row[axle]) next.boxes[`${name}_${axle}_left`] = row[axle].replace(',', decimal === ',' ? '.' : ',');
          for (const side of ['left', 'right']) if (row[`${axle} ${side}`]) next.boxes[`${name}_${axle}_${side}`] = row[`${axle} ${side}`].replace(',', decimal === ',' ? '.' : ',');
        }
      });
    }
    next.others = rows.filter((row) => !used.has(row));
    next.kept = [...head].filter(([name]) => ![...Object.keys(KEYS), 'units', 'date', all.format[0]].includes(name));
    return next;
  };
  const MORE = /^(height of |pad height|yard off level)/;
  const open = async (input) => {
    const [file] = input.files;
    if (!file) return;
    try {
      if (file.size > 200000) throw new Error('it is larger than any weigh day');
      day = taken(await file.text());
      mount();
      show('own');
      const more = day.kept.map(([key]) => key).filter((key) => MORE.test(key));
      if (more.length) text('needed', `This file also tells ${more.join(', ')}. The page keeps that and does not use it: the workbook’s ± may differ.`);
    } catch (why) { text('opened', `${file.name} was not opened: ${why.message}. Nothing was changed.`); }
    input.value = '';
  };

  // The phone's own storage, used only when asked.
  const load = () => {
    try { stored = JSON.parse(localStorage.getItem(STORE) || '[]'); } catch { stored = []; storage = false; }
    if (!Array.isArray(stored)) stored = [];
    stored = stored.filter((one) => one && typeof one.csv === 'string' && typeof one.name === 'string').slice(0, 200);
  };
  const save = () => {
    try { localStorage.setItem(STORE, JSON.stringify(stored)); return ''; }
    catch { return 'This phone keeps nothing for this page (its storage is full or off): send the weigh day as a file instead.'; }
  };
  const list = () => {
    load();
    const items = stored.map((one, n) => {
      const item = document.createElement('li'), button = document.createElement('button');
      button.className = 'yp-choice';
      for (const [tag, words] of [['b', one.name], ['span', one.date]]) {
        const part = document.createElement(tag);
        part.textContent = words;
        button.append(part);
      }
      button.addEventListener('click', () => {
        try { day = taken(stored[n].csv); mount(); show('own'); }
        catch (why) { text('opened', `${stored[n].name}: ${why.message}.`); }
      });
      item.append(button);
      return item;
    });
    $('[data-text=machines]').replaceChildren(...items);
    text('storage', storage ? '' : 'This phone keeps nothing for this page (its storage is off): send each weigh day as a file.');
  };

  const name = () => day.lines.machine || 'machine';
  const mine = (one) => one.name === name() && one.date === day.date;
  const ACTS = {
    new: () => { day = fresh(day.system); mount(); },
    swap: (el) => swap(el.dataset.which),
    print: () => { copies(); window.print(); },
    share_page: () => share(`${fileName()}_${day.date}.html`, sheet(), 'text/html'),
    share_file: () => share(`${fileName()}_${day.date}.csv`, csv(), 'text/csv'),
    keep: () => {
      load();
      const before = stored;
      stored = [...stored.filter((one) => !mine(one)), {name: name(), date: day.date, csv: csv()}];
      const wrong = save();
      if (wrong) stored = before;
      text('done', wrong || `${name()}, ${day.date}, is kept on this phone until you delete it.`);
    },
    forget: () => {
      load();
      if (!stored.some(mine)) return text('done', `${name()}, ${day.date}, is not kept on this phone.`);
      if (!window.confirm(`Delete ${name()}, ${day.date}, from this phone?`)) return undefined;
      stored = stored.filter((one) => !mine(one));
      return text('done', save() || `${name()}, ${day.date}, is deleted from this phone.`);
    },
  };

  if (location.protocol.startsWith('http') && 'serviceWorker' in navigator) navigator.serviceWorker.register('offline.js').catch(() => {});
  window.addEventListener('beforeprint', copies);
  listen();
  setChips();
  named();
  list();
  (window.requestIdleCallback || setTimeout)(() => draw());
  window.leverarmYard = {show, csv, draw, get day() { return day; }};
})();
