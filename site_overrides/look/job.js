/* The job of the moment: ids of procedures in the address (#procedures=a,b). It follows every link, as the machine does,
   and every procedure can be put into it. The page of the job needs scripts too. */
(() => {
  'use strict';

  const KEPT = 'shearpin.job';
  const address = window.shearpinAddress;
  if (!address) return;

  const listed = (text) => (text || '').split(',').filter((id) => /^[a-z0-9.-]+$/.test(id));
  const given = () => address.parameters(location.hash).get('procedures');

  const recall = () => {
    try {
      return window.sessionStorage.getItem(KEPT);
    } catch (error) {
      return null;
    }
  };
  const remember = (ids) => {
    try {
      window.sessionStorage.setItem(KEPT, ids.join(','));
    } catch (error) {
      // the address carries the job anyway
    }
  };

  // An address without a job, as after a search form, is not an empty job.
  let procedures = Array.from(new Set(listed(given() === null ? recall() : given())));

  const show = () => {
    document.querySelectorAll('[data-job-link]').forEach((link) => {
      link.hidden = procedures.length === 0;
      link.textContent = `Job (${procedures.length})`;
    });
    document.querySelectorAll('[data-add-to-job]').forEach((link) => {
      const id = link.getAttribute('data-add-to-job');
      const inside = procedures.includes(id);
      link.textContent = inside ? 'It is in the job: show the job' : 'Put it in the job';
      address.setIn(link, 'procedures', (inside ? procedures : procedures.concat(id)).join(','));
    });
  };

  const set = (ids) => {
    procedures = Array.from(new Set(ids));
    remember(procedures);
    address.carry('procedures', procedures.join(','));
    show();
  };

  window.shearpinJob = Object.assign(window.shearpinJob || {}, { listed: () => procedures, set, refresh: show });
  set(procedures);
  window.addEventListener('hashchange', () => {
    if (given() !== null && listed(given()).join() !== procedures.join()) {
      set(listed(given()));
      document.dispatchEvent(new CustomEvent('shearpin:job'));
    }
  });
})();
