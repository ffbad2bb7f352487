// The what-if: numbers and choices that stand elsewhere than usual become parameters.
export function whatIf(change) {
  const form = document.getElementById('knobs');
  const fault = document.getElementById('knob-fault');
  const fields = [...form.querySelectorAll('[name]')];

  // set takes a field over into the address. What stands as usual is left out of it, so that an address without parameters is always
  // the run itself.
  function set(field, wait) {
    const usual = field.dataset.usual, knob = field.closest('.knob');
    let value = field.value;
    if (field.type === 'number') {
      const v = field.valueAsNumber;
      // written so that an empty field, whose number is NaN, is wrong too
      const wrong = !(v >= Number(field.min) && v <= Number(field.max));
      field.setAttribute('aria-invalid', wrong);
      if (wrong) {
        fault.textContent = `${field.closest('fieldset').querySelector('legend').textContent}, ${knob.querySelector('label').textContent}: give a number from ${field.min} to ${field.max}.`;
        return;
      }
      fault.textContent = '';
      const slide = knob.querySelector('input[type=range]');
      if (slide) slide.value = v;
      value = v === Number(usual) ? '' : String(v);
    } else if (value === usual) value = '';
    knob.classList.toggle('changed', value !== '');
    change({[field.name]: value}, wait);
  }

  // A digit more may follow within a moment, a slider is to be followed at once: hence the two waits, in milliseconds.
  for (const f of fields) f.addEventListener(f.type === 'number' ? 'input' : 'change', () => set(f, 120));
  for (const s of form.querySelectorAll('input[type=range]')) {
    const field = document.getElementById(s.dataset.for);
    s.addEventListener('input', () => { field.value = s.value; set(field, 30); });
  }
  // an address that was opened or loaded again may have moved something already
  for (const f of fields) f.closest('.knob').classList.toggle('changed', f.type === 'number' ? Number(f.value) !== Number(f.dataset.usual) : f.value !== f.dataset.usual);
  form.addEventListener('submit', e => e.preventDefault());
  document.getElementById('usual').addEventListener('click', () => {
    const none = {};
    for (const f of fields) {
      f.value = f.dataset.usual;
      f.removeAttribute('aria-invalid');
      const knob = f.closest('.knob'), slide = knob.querySelector('input[type=range]');
      if (slide) slide.value = f.dataset.usual;
      knob.classList.remove('changed');
      none[f.name] = '';
    }
    fault.textContent = '';
    change(none);
  });
  return fields;
}
