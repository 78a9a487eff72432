'use strict';
// Shows what the service sends, also while the page is closed; a touch opens the page whose part of the site this is, its button the way out.
self.addEventListener('push', event => {
  const told = event.data.json();
  event.waitUntil(self.registration.showNotification(told.title, {
    body: told.body, tag: told.tag, renotify: true, requireInteraction: told.priority === 'high',
    data: told.stop, actions: told.stop ? [{ action: 'stop', title: told['stop-button'] }] : [],
  }));
});
self.addEventListener('notificationclick', event => {
  event.notification.close();
  if (event.action === 'stop') {
    event.waitUntil(self.clients.openWindow(event.notification.data));
    return;
  }
  event.waitUntil((async () => {
    const page = self.registration.scope;
    const open = (await self.clients.matchAll({ type: 'window', includeUncontrolled: true })).find(one => one.url.startsWith(page));
    return open ? open.focus() : self.clients.openWindow(page);
  })());
});
