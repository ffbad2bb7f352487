// The units that fit what is written down; without this script all of them are there to choose from.
const kind = document.getElementById('e-kind'), unit = document.getElementById('e-unit'), value = document.getElementById('e-value');
const all = [...unit.options];

function fit() {
  const units = (kind.selectedOptions[0]?.dataset.units || '').split(' ').filter(Boolean);
  const was = unit.value;
  unit.replaceChildren(...all.filter(o => kind.value === '' || (units.length ? units.includes(o.value) : o.value === '')));
  unit.value = [...unit.options].some(o => o.value === was) ? was : unit.options[0].value;
  value.disabled = unit.disabled = kind.value !== '' && units.length === 0;
}
kind.addEventListener('change', fit);
fit();
