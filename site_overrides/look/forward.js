/* A page that has moved: on to its new address, with the machine on the bench (#machine=id) and the place on the page. */
(() => {
  'use strict';

  const link = document.querySelector('a[data-forward]');
  if (link) window.location.replace(link.href + window.location.hash);
})();
