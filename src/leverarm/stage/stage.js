// Moves a picture that Python drew. Nothing here knows what the picture shows: the data holds its text, rows of
// arithmetic, the places their numbers go, what a hand may take hold of, and the words of every refusal.
// It loads nothing from anywhere and evaluates no text.
(() => {
  if (window.leverarmStage) return;
  const DO = {
    add: (a, b) => a + b, sub: (a, b) => a - b, mul: (a, b) => a * b, div: (a, b) => a / b,
    neg: (a) => -a, abs: Math.abs, less: (a, b) => +(a < b), at_most: (a, b) => +(a <= b),
    equal: (a, b) => +(a === b), least: (a, b) => (b < a ? b : a), most: (a, b) => (b > a ? b : a),
    choose: (c, a, b) => (c ? a : b), sin: Math.sin, cos: Math.cos, sqrt: Math.sqrt,
    floor: Math.floor, nearest: (a) => { const low = Math.floor(a), up = a - low; return up > 0.5 || (up === 0.5 && low % 2 !== 0) ? low + 1 : low; },
  };
  const TELL_EVERY = 60, SPEAK_AFTER = 700;

  // Digits as Python prints them: a number exactly between two goes to the even one, where toFixed goes up.
  const digits = (size, places) => {
    const doubled = size * 2 ** (places + 1);
    if (Number.isInteger(doubled) && doubled % 2 === 1) {
      const below = (doubled * 5 ** places - 1) / 2;
      return ((below % 2 ? below + 1 : below) / 10 ** places).toFixed(places);
    }
    return size.toFixed(places);
  };
  const printed = (x, places, style, signs) => {
    let text = digits(Math.abs(x), places);
    if (!Number(text)) return text;
    if (style === 'plain') return (x < 0 ? '-' : '') + text;
    if (Number(text) >= signs.from) {
      const [whole, rest] = text.split('.');
      text = whole.replace(/\B(?=(\d{3})+$)/g, signs.group) + (rest ? '.' + rest : '');
    }
    return (x < 0 ? signs.minus : style === 'signed' ? '+' : '') + text;
  };
  const write = (pieces, v, signs) => {
    let out = '';
    for (const piece of pieces) {
      if (typeof piece === 'string') out += piece;
      else if (Array.isArray(piece[1])) out += write(v[piece[0]] ? piece[1] : piece[2], v, signs);
      else out += printed(v[piece[0]], piece[1], piece[2], signs);
    }
    return out;
  };
  // A text into an element: its words, or an attribute, which is there or not where the element knows it as a switch.
  const fill = (el, name, text) => {
    if (!name) el.textContent = text;
    else if (typeof el[name] === 'boolean') el.toggleAttribute(name, text !== '');
    else el.setAttribute(name, text);
  };
  // The arithmetic: constants, inputs, then one row after another.
  const worker = ({numbers, inputs, rows}) => {
    const first = numbers.length, start = first + inputs.length;
    const steps = rows.map(([name, ...given]) => [DO[name], ...given]);
    return (state) => {
      const v = new Float64Array(start + steps.length);
      v.set(numbers);
      inputs.forEach((name, i) => { v[first + i] = state[name]; });
      for (let i = 0; i < steps.length; i++) {
        const s = steps[i];
        v[start + i] = s[0](v[s[1]], v[s[2]], v[s[3]]);
      }
      return v;
    };
  };
  const clamp = (x, low, high) => Math.min(Math.max(x, low), high);
  const snap = (x, [low, high, step]) => clamp(+(Math.round(x / step) * step).toPrecision(12), low, high);
  const still = () => matchMedia('(prefers-reduced-motion: reduce)').matches;

  // What answers a press is brought to where it is seen, and moved no more than that needs.
  const ANSWERS_WITHIN = 5000;
  let pressed = -ANSWERS_WITHIN;
  const bring = (...parts) => {
    if (performance.now() - pressed > ANSWERS_WITHIN) return;
    for (const el of parts) if (el?.getClientRects().length) el.scrollIntoView({block: 'nearest'});
  };

  // A typed number in the unit shown: "+110", "−50 lb", "down 50", "1,234"; null where it is none.
  const typed = (text, unit, words) => {
    let left = text.trim().toLowerCase().replaceAll('−', '-').replaceAll(' ', ' ');
    let sign = 1;
    for (const [word, way] of Object.entries(words || {}))
      if (left.startsWith(word)) { left = left.slice(word.length).trim(); sign = way; break; }
    if (unit && left.endsWith(unit.toLowerCase())) left = left.slice(0, -unit.length).trim();
    if (/^[+-]?\d{1,3}(,\d{3})+(\.\d*)?$/.test(left)) left = left.replaceAll(',', '');
    if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(left)) return null;
    const number = Number(left);
    return sign < 0 ? -Math.abs(number) : number;
  };

  const mount = (root, data, told = () => {}) => {
    root.leverarmGone?.();
    // Names in the text are told apart from those of any other stage on the page.
    root.innerHTML = data.markup.replaceAll('st@', 'st' + Math.random().toString(36).slice(2, 8));
    const run = worker(data), state = {...data.start};
    const marked = new Map([...root.querySelectorAll('[data-b]')].map((el) => [Number(el.dataset.b), el]));
    const places = data.bindings.map(([mark, name, pieces]) => {
      const el = marked.get(mark);
      return {el, name, pieces, old: null, sheet: el.closest('[data-sheet]')};
    });
    const boxes = [...root.querySelectorAll('input[data-moves], select[data-moves]')];
    const live = root.querySelector('[role=status]');
    let waits = 0, speaks = 0, moving = 0, spoken = '', gone = false;
    const tell = (news = {}) => {
      clearTimeout(waits);
      waits = 0;
      // A box taken off the page with its picture still says that it has changed.
      if (gone || !root.isConnected) return;
      // That Python is gone keeps nothing from moving; only what it must answer cannot come.
      let heard = false;
      try { heard = told({state: {...state}, act: data.act, ...news}); } catch { /* as if nobody heard */ }
      const note = root.querySelector('.st-alone');
      if (note) note.textContent = heard === false && data.alone ? data.alone : '';
    };
    const say = () => {
      if (live && live.textContent !== spoken) live.textContent = spoken;
    };
    const draw = () => {
      let v = run(state), met = false;
      for (const [name, row] of data.latches) if (v[row] && !state[name]) { state[name] = 1; met = true; }
      if (met) v = run(state);
      for (const place of places) {
        const {el, name, pieces, old, sheet} = place;
        // A sheet that is not shown waits until it is.
        if (sheet && sheet.leverarmAway) continue;
        const text = write(pieces, v, data.signs);
        if (text === old) continue;
        place.old = text;
        if (name === 'data-says') spoken = text;
        fill(el, name, text);
      }
      for (const el of boxes) {
        if (el === document.activeElement && el.type === 'text' && el.leverarmTyping) continue;
        const [, , step, decimals, sign] = data.ranges[el.dataset.moves], x = state[el.dataset.moves];
        const text = el.type !== 'text' ? String(x) : el.dataset.known && !state[el.dataset.known] ? ''
          : printed(x, step < 1 ? decimals : 0, sign ? 'signed' : 'words', {...data.signs, from: Infinity});
        if (el.value !== text) el.value = text;
      }
      return v;
    };
    const change = (news, mine = true) => {
      // What somebody said of the picture is old once a hand has changed it.
      if (mine) for (const name of data.fleeting || []) state[name] = 0;
      Object.assign(state, news);
      draw();
      if (!mine) return;
      waits ||= setTimeout(tell, TELL_EVERY);
      clearTimeout(speaks);
      speaks = setTimeout(say, SPEAK_AFTER);
    };
    const put = (name, x, el) => {
      const known = el?.dataset.known, value = snap(x, data.ranges[name]);
      if (value === state[name] && (!known || state[known])) return;
      change({[name]: value, ...(known ? {[known]: 1} : {})});
    };
    const refuse = (el, on) => {
      const note = el.closest('.st-control').querySelector('.st-refusal');
      if (note) note.textContent = on ? el.dataset.refusal : '';
      el.setAttribute('aria-invalid', String(on));
      root.querySelectorAll('svg').forEach((svg) => svg.classList.toggle('st-old', Boolean(
        root.querySelector('[aria-invalid=true]'))));
    };
    const take = (el) => {
      el.leverarmTyping = false;
      const [low, high] = data.ranges[el.dataset.moves];
      if (el.value.trim() === '' && el.dataset.known && !state[el.dataset.known]) return refuse(el, false), true;
      const x = typed(el.value, el.dataset.unit, data.ways);
      if (x === null || x < low || x > high) return refuse(el, true), false;
      refuse(el, false);
      const known = el.dataset.known;
      change({[el.dataset.moves]: x, ...(known ? {[known]: 1} : {})});
      return true;
    };
    const play = (name, goal, seconds, then) => {
      cancelAnimationFrame(moving);
      const from = state[name], began = performance.now();
      if (still() || !seconds) { change({[name]: goal}); then?.(); return; }
      const frame = (now) => {
        const t = clamp((now - began) / 1000 / seconds, 0, 1), eased = t * t * (3 - 2 * t);
        change({[name]: t < 1 ? from + (goal - from) * eased : goal}, t >= 1);
        if (t < 1) moving = requestAnimationFrame(frame); else then?.();
      };
      moving = requestAnimationFrame(frame);
    };
    const rest = (name) => play(name, Math.round(state[name]), 0.3, say);
    const focusNext = () => {
      const next = [...root.querySelectorAll('[data-next]')].find((el) => !el.disabled && el.offsetParent);
      if (next) next.focus({preventScroll: true});
      // The button that was pressed has gone, and no other follows: the next Tab goes on from here.
      else if (!document.activeElement.offsetParent) root.focus({preventScroll: true});
    };
    const bringPicture = () => bring(root.querySelector('.st-paper'), root.querySelector('.st-ask'));
    const press = (el) => {
      pressed = performance.now();
      const wants = el.dataset.needs && root.querySelector(`[data-name=${el.dataset.needs}]`);
      if (wants && !wants.value.trim()) {
        const note = wants.closest('.st-control').querySelector('.st-refusal');
        if (note) note.textContent = wants.dataset.refusal;
        wants.focus();
        return;
      }
      const bad = el.dataset.checks && boxes.filter((one) => one.type === 'text' && !take(one));
      if (bad && bad.length) { bad[0].focus(); return; }
      if (el.dataset.set) change(JSON.parse(el.dataset.set));
      if (el.dataset.flips) change({[el.dataset.flips]: state[el.dataset.flips] ? 0 : 1});
      if (el.dataset.tell) tell({did: el.dataset.tell, written: written()});
      if (el.dataset.open && data.next) { open(el.dataset.open); return; }
      if (el.dataset.plays) bringPicture();
      if (el.dataset.plays) play(el.dataset.plays, Number(el.dataset.goal), Number(el.dataset.seconds), focusNext);
    };
    const written = () => Object.fromEntries(
      [...root.querySelectorAll('[data-name]')].map((el) => [el.dataset.name, el.value]));
    // Where Python does not run, the page holds the next act itself and opens it with what was said.
    const open = () => mount(root, {...data.next, start: {...data.next.start, ...Object.fromEntries(
      Object.entries(state).filter(([name]) => name in data.next.start))}}, told).begin();

    for (const el of boxes) {
      el.addEventListener('input', () => {
        if (el.type === 'range') { refuse(el, false); put(el.dataset.moves, Number(el.value), el); }
        else el.leverarmTyping = true;
      });
      if (el.tagName === 'SELECT') el.addEventListener('change', () => put(el.dataset.moves, Number(el.value), el));
      // A slider left where it stands, but touched, counts as said.
      if (el.type === 'range') el.addEventListener('change', () => put(el.dataset.moves, Number(el.value), el));
      if (el.type === 'text') {
        el.addEventListener('change', () => { if (take(el)) draw(); });
        el.addEventListener('keydown', (event) => {
          if (event.key !== 'Enter') return;
          event.preventDefault();
          if (!take(el)) return;
          draw();
          const lock = root.querySelector('[data-enter]');
          if (lock && !lock.disabled && lock.offsetParent) press(lock);
        });
      }
    }
    // The ring of the value in use shows the focus too.
    for (const kind of ['focusin', 'focusout']) root.addEventListener(kind, ({target}) => {
      root.querySelectorAll('[data-hold]').forEach((el) => el.classList.toggle('st-focus',
        kind === 'focusin' && el.dataset.hold === target.dataset?.moves));
    });
    for (const el of root.querySelectorAll('[data-carry]')) carry(el, {root, data, state, run, put, change});
    for (const el of root.querySelectorAll('button')) el.addEventListener('click', () => press(el));
    for (const el of root.querySelectorAll('[data-name]')) {
      // A box of the same name stands on each size of paper.
      el.addEventListener('input', () => {
        for (const twin of root.querySelectorAll(`[data-name="${el.dataset.name}"]`)) twin.value = el.value;
        for (const name of data.fleeting || []) if (state[name]) change({});
      });
      el.addEventListener('change', () => tell({written: written()}));
    }
    for (const el of root.querySelectorAll('input,button,textarea,summary,select')) el.dataset.lmSuppressShortcuts = 'true';
    root.querySelectorAll('[data-hold]').forEach((el) => {
      const found = data.handles.find(([name, sheet]) => name === el.dataset.hold && el.closest(`[data-sheet=${sheet}]`));
      if (found) hold(el, found, {state, run, put, rest, range: data.ranges[el.dataset.hold]});
    });
    const sheets = [...root.querySelectorAll('[data-sheet]')];
    const look = () => {
      let back = false;
      for (const one of sheets) {
        const away = !one.getClientRects().length;
        back ||= one.leverarmAway && !away;
        one.leverarmAway = away;
      }
      if (back) draw();
      // A picture wider than its place is moved by the arrow keys, too.
      for (const one of root.querySelectorAll('.st-paper')) {
        if (one.scrollWidth > one.clientWidth + 1) one.setAttribute('tabindex', '0');
        else one.removeAttribute('tabindex');
      }
    };
    const seen = new ResizeObserver(look);
    sheets.forEach((one) => seen.observe(one));
    seen.observe(root);
    root.leverarmGone = () => { gone = true; seen.disconnect(); cancelAnimationFrame(moving); clearTimeout(waits); clearTimeout(speaks); };
    draw();
    const begin = () => {
      bringPicture();
      // The button that was pressed is gone with its act: the next Tab goes on from the new one.
      if (performance.now() - pressed < ANSWERS_WITHIN && document.activeElement === document.body)
        root.focus({preventScroll: true});
      if (data.plays) play(data.plays.name, data.plays.goal, data.plays.seconds, () => { say(); focusNext(); });
    };
    const set = (news, texts = {}) => {
      cancelAnimationFrame(moving);
      for (const [name, text] of Object.entries(texts))
        for (const el of root.querySelectorAll(`[data-told="${name}"]`)) {
          el.textContent = text;
          bring(el);
        }
      change(news, false);
    };
    const glide = (news, seconds) => {
      for (const [name, goal] of Object.entries(news)) play(name, goal, seconds, say);
    };
    // What the reader moved in another view of the same act counts as moved here.
    const again = (news) => change(news);
    return {state, begin, set, again, glide, written};
  };

  // Something to take hold of. Where it goes when its value changes is tried out on the rows, so that no picture
  // has to tell its way backward.
  const hold = (el, [name, , rowX, rowY], {state, run, put, rest, range}) => {
    const [low, high] = range;
    const spot = (x) => { const v = run({...state, [name]: x}); return [v[rowX], v[rowY]]; };
    const reach = (x, y) => {
      let best = state[name];
      for (let i = 0; i < 5; i++) {
        const e = (high - low) / 2000, side = best + e > high ? -e : e;
        const [x0, y0] = spot(best), [x1, y1] = spot(best + side);
        const dx = (x1 - x0) / side, dy = (y1 - y0) / side, far = dx * dx + dy * dy;
        if (!far) break;
        best = clamp(best + ((x - x0) * dx + (y - y0) * dy) / far, low, high);
      }
      return best;
    };
    const on = (event) => {
      const point = new DOMPoint(event.clientX, event.clientY);
      return point.matrixTransform(el.ownerSVGElement.getScreenCTM().inverse());
    };
    // Its slider knows whether a value counts as said.
    const slider = el.closest('.st').querySelector(`input[type=range][data-moves=${name}]`);
    let from = null;
    // Inside a picture touch-action alone does not keep the page from scrolling.
    el.addEventListener('touchstart', (event) => event.preventDefault(), {passive: false});
    el.addEventListener('pointerdown', (event) => {
      if (event.button) return;
      const p = on(event), [x, y] = spot(state[name]);
      from = [p.x - x, p.y - y];
      el.setPointerCapture(event.pointerId);
      event.preventDefault();
      slider?.focus({preventScroll: true});
    });
    el.addEventListener('pointermove', (event) => {
      if (!from) return;
      const p = on(event);
      put(name, reach(p.x - from[0], p.y - from[1]), slider);
    });
    // A tap without a pull says what stands there: no change.
    el.addEventListener('pointerup', () => {
      if (from) put(name, state[name], slider);
      if (from && el.closest('[data-rests]')) rest(name);
    });
    for (const end of ['pointerup', 'pointercancel']) el.addEventListener(end, () => { from = null; });
  };

  // Something to carry: let go, it goes to the nearest of its places, which are tried out on the rows; far from
  // all of them it goes back. A tap is the button's own press, or turns it over.
  const carry = (el, {root, data, state, run, put, change}) => {
    const {carry: name, along, tap, far: most} = el.dataset, high = data.ranges[name][1];
    let ghost = null, from = null;
    const nearest = (event) => {
      const svg = [...root.querySelectorAll('svg[data-sheet]')].find((one) => one.getClientRects().length);
      const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
      const [, , rowX, rowY] = data.handles.find(([moves, sheet]) => moves === name && sheet === svg.dataset.sheet);
      let best = 0, far = Number(most);
      for (let k = 1; k <= high; k++) {
        const v = run({...state, [name]: k}), away = Math.hypot(v[rowX] - p.x, along ? 0 : v[rowY] - p.y);
        if (away < far) { far = away; best = k; }
      }
      return best;
    };
    const drop = () => { ghost?.remove(); ghost = from = null; };
    el.addEventListener('touchstart', (event) => event.preventDefault(), {passive: false});
    el.addEventListener('pointerdown', (event) => {
      if (event.button || el.disabled) return;
      from = [event.clientX, event.clientY];
      el.setPointerCapture(event.pointerId);
      if (el.tagName !== 'BUTTON') event.preventDefault();
    });
    el.addEventListener('pointermove', (event) => {
      if (!from || (!ghost && Math.hypot(event.clientX - from[0], event.clientY - from[1]) < 6)) return;
      if (!ghost) {
        ghost = document.createElement('span');
        ghost.className = 'st-carried';
        ghost.setAttribute('aria-hidden', 'true');
        ghost.textContent = el.dataset.letter;
        root.querySelector('.st').append(ghost);
      }
      const box = ghost.offsetParent.getBoundingClientRect();
      ghost.style.left = event.clientX - box.left + 'px';
      ghost.style.top = event.clientY - box.top + 'px';
    });
    el.addEventListener('pointerup', (event) => {
      if (!from) return;
      const carried = ghost;
      drop();
      if (carried) {
        el.leverarmCarried = true;
        setTimeout(() => { el.leverarmCarried = false; });
        const place = nearest(event), note = root.querySelector('[data-told=reply]');
        // From the rack comes one arrow for each force: carried there again, the one on the picture moves.
        if (note && el.dataset.once && state[name] && place) note.textContent = el.dataset.once;
        put(name, place, el);
      }
      else if (tap) change({[tap]: state[tap] ? 0 : 1});
      // A finger's tap on a button is kept from the page, so that it does not scroll: press it here.
      else if (event.pointerType !== 'mouse' && el.tagName === 'BUTTON') el.click();
    });
    el.addEventListener('pointercancel', drop);
    // The click that a mouse makes after it has carried something is none.
    el.addEventListener('click', (event) => {
      if (el.leverarmCarried) event.stopImmediatePropagation();
    }, true);
  };

  window.leverarmStage = {mount, worker, write, fill, printed, typed};
})();
