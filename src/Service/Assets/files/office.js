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
