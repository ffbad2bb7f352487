// How lime is worked out from tests: the choices of the command line, set as they hold if nothing is chosen.
const make = (tag, textContent, more = {}) => Object.assign(document.createElement(tag), {textContent, ...more});

// Which choice a fault of the command line is about.
const flags = {'--lime-method': 'method', '--interpolate': 'interpolate', '--state': 'state', '--target-ph': 'target'};

// limeForm returns the form as box, what is chosen in it as values, and blame, which puts faults into it.
export function limeForm(lime) {
  const box = document.createElement('fieldset');
  box.className = 'lime';
  box.append(make('legend', 'How to work with these tests'));
  const fields = {}, faults = {};
  const put = (name, label, field, hint) => {
    const knob = make('div', '', {className: 'knob'});
    field.id = 'lime-' + name;
    const l = make('label', label);
    l.htmlFor = field.id;
    knob.append(l, field, make('small', hint, {id: field.id + '-hint'}), make('p', '', {className: 'wrong', id: field.id + '-fault'}));
    field.setAttribute('aria-describedby', `${field.id}-hint ${field.id}-fault`);
    faults[name] = knob.lastChild;
    fields[name] = field;
    box.append(knob);
  };
  const choice = (list, usual) => {
    const s = document.createElement('select');
    s.append(...list.map(c => make('option', c.label, {value: c.name})));
    s.value = usual;
    return s;
  };
  put('method', 'Lime method', choice(lime.methods, lime.usual.method), 'The method must fit what the laboratory measured; above stands for how many samples each has what it needs.');
  put('state', 'State, for its target pH', Object.assign(document.createElement('input'), {value: lime.usual.state, maxLength: 2, autocomplete: 'off', spellcheck: false}), 'Two letters, such as GA; empty for the usual target of the crop.');
  put('target', 'Target pH', Object.assign(document.createElement('input'), {value: lime.usual.target || '', inputMode: 'decimal', autocomplete: 'off'}), 'Empty for that of the state.' + (lime.target ? ` This run limes to ${lime.target}.` : ''));
  put('interpolate', 'Between sampled points', choice(lime.interpolate, lime.usual.interpolate), 'For samples with a place, a surface through them can give zones their pH and lime.');

  return {
    box,
    values() {
      for (const [name, f] of Object.entries(fields)) { f.removeAttribute('aria-invalid'); faults[name].textContent = ''; }
      // a decimal comma is a point; what is no number is told here, in the words of the command line, because JSON has no place for it
      const target = fields.target.value.trim().replace(',', '.');
      if (Number.isNaN(Number(target))) throw new Error(`--target-ph: "${target}" is not a number; give a pH such as 6.5, or leave it empty`);
      return {method: fields.method.value, state: fields.state.value.trim(), interpolate: fields.interpolate.value, target: target === '' ? 0 : Number(target)};
    },
    // blame puts each fault beside the choice that it is about and returns the rest.
    blame(message) {
      const rest = [];
      for (const line of message.split('\n')) {
        const flag = Object.keys(flags).find(f => line.startsWith(f + ':'));
        if (!flag) { rest.push(line); continue; }
        const name = flags[flag];
        faults[name].textContent = line.slice(flag.length + 1).trim();
        fields[name].setAttribute('aria-invalid', 'true');
        fields[name].focus();
      }
      return rest.join(' ');
    },
  };
}
