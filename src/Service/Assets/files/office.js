'use strict';
// Passkeys (W3C Web Authentication, level 3): options from the service, the browser's answer into the form.
for (const form of document.querySelectorAll('form[data-passkey]')) {
  const button = form.querySelector('[data-passkey-button]');
  if (!button || !window.PublicKeyCredential?.parseCreationOptionsFromJSON) continue;
  button.hidden = false;
  button.addEventListener('click', async () => {
    const isNew = form.dataset.passkey === 'new';
    try {
      const answer = await fetch('/passkey/' + (isNew ? 'new' : 'ask'), { method: 'POST' });
      const options = await answer.json();
      const credential = isNew
        ? await navigator.credentials.create({ publicKey: PublicKeyCredential.parseCreationOptionsFromJSON(options) })
        : await navigator.credentials.get({ publicKey: PublicKeyCredential.parseRequestOptionsFromJSON(options) });
      form.querySelector('input[type=hidden][name$=Passkey]').value = JSON.stringify(credential);
      form.noValidate = true;
      form.requestSubmit();
    } catch (problem) {
      const told = document.querySelector('.problem');
      if (told) told.textContent = problem.message;
    }
  });
}
// Charts: the options come as data; "~ink" and its like are colours of the page, so that day and night are one rule of style.
window.farberth = (() => {
  const charts = new WeakMap();
  let library = null;
  const load = address => library ??= new Promise((done, failed) => {
    const script = document.createElement('script');
    script.src = address;
    script.onload = done;
    script.onerror = failed;
    document.head.append(script);
  });
  // Between two neighbours: metres, lower and upper edge of the one, then of the other.
  const band = (_, api) => {
    const at = (x, y) => api.coord([api.value(x), api.value(y)]);
    return { type: 'polygon', shape: { points: [at(0, 1), at(3, 4), at(3, 5), at(0, 2)] }, style: api.style({ stroke: null }) };
  };
  const coloured = (value, style) => value === '~band' ? band : typeof value === 'string' && value.startsWith('~') ? style.getPropertyValue('--' + value.slice(1)).trim()
    : Array.isArray(value) ? value.map(one => coloured(one, style))
    : value && typeof value === 'object' ? Object.fromEntries(Object.entries(value).map(([name, one]) => [name, coloured(one, style)]))
    : value;
  async function draw(box, options, address) {
    await load(address);
    if (!box.isConnected) return;
    let chart = charts.get(box);
    if (!chart) {
      chart = echarts.init(box, null, { renderer: 'svg' });
      charts.set(box, chart);
      new ResizeObserver(() => chart.resize()).observe(box);
      matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => paint(box));
    }
    box.dataset.options = options;
    paint(box);
  }
  function paint(box) {
    const chart = charts.get(box);
    if (chart && !chart.isDisposed()) chart.setOption(coloured(JSON.parse(box.dataset.options), getComputedStyle(box)), { notMerge: true });
  }
  function wipe(box) { charts.get(box)?.dispose(); }
  function live() { document.documentElement.dataset.live = 'yes'; }
  return { draw, wipe, live };
})();
document.addEventListener('click', event => { if (event.target.closest?.('[data-print]')) print(); });
