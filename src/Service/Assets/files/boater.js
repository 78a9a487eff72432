'use strict';
// The page is whole without this. With it, what stands there is renewed, what is old says so, and this browser can be told.
(() => {
  const every = 30000;
  const lost = document.getElementById('lost');
  async function renew() {
    try {
      const answer = await fetch(location.href, { cache: 'no-store', signal: AbortSignal.timeout(15000) });
      if (answer.status === 404 || answer.status === 410) { location.reload(); return; }
      if (!answer.ok) throw new Error(answer.status);
      const next = new DOMParser().parseFromString(await answer.text(), 'text/html');
      for (const fresh of next.querySelectorAll('[id^="part-"]')) {
        const old = document.getElementById(fresh.id);
        if (!old || old.innerHTML === fresh.innerHTML || old.contains(document.activeElement)) continue;
        const open = [...old.querySelectorAll('details')].map(one => one.open);
        old.className = fresh.className;
        old.replaceChildren(...fresh.childNodes);
        old.querySelectorAll('details').forEach((one, at) => { one.open = open[at] || false; });
      }
      lost.hidden = true;
    } catch {
      lost.hidden = false;
    }
  }
  setInterval(() => { if (!document.hidden) renew(); }, every);
  document.addEventListener('visibilitychange', () => { if (!document.hidden) renew(); });

  const box = document.getElementById('push');
  if (!box || !('serviceWorker' in navigator) || !('PushManager' in window)) return;
  box.hidden = false;
  const say = key => { box.querySelector('p').textContent = box.dataset[key]; };
  const send = (what, subscription) => fetch(`${box.dataset.to}/push/${what}${box.dataset.as}`, {
    method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(subscription),
  }).then(answer => { if (!answer.ok) throw new Error(answer.status); });
  async function start() {
    await navigator.serviceWorker.register('/b/worker.js', { scope: box.dataset.to });
    const worker = await navigator.serviceWorker.ready;
    await send('start', await worker.pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: box.dataset.key }));
    say('on');
  }
  async function stop() {
    const worker = await navigator.serviceWorker.getRegistration(box.dataset.to);
    const subscription = await worker?.pushManager.getSubscription();
    if (subscription) { await send('stop', subscription); await subscription.unsubscribe(); }
    say('off');
  }
  box.addEventListener('click', event => {
    const what = event.target.dataset.do;
    if (what) (what === 'start' ? start() : stop()).catch(() => say('refused'));
  });
})();
