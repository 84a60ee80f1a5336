
// Tells the number that is pointed at or touched; without it nothing is missing but this.
(() => {
  const reach = 32;
  const told = (figure, event) => {
    const line = event.target.closest('.circuit-line, .circuit-pump');
    if (line) return line.querySelector('title').textContent;
    let nearest = '', least = reach;
    for (const mark of figure.querySelectorAll('circle')) {
      const title = mark.querySelector('title');
      const box = mark.getBoundingClientRect();
      if (!title || !box.width) continue;
      const far = Math.hypot(box.x + box.width / 2 - event.clientX, box.y + box.height / 2 - event.clientY);
      if (far < least) [least, nearest] = [far, title.textContent];
    }
    return nearest;
  };
  for (const figure of document.querySelectorAll('figure')) {
    const says = figure.querySelector('.told');
    if (!figure.querySelector('circle title, .circuit-line')) continue;
    says.hidden = false;
    for (const kind of ['pointermove', 'click']) {
      figure.addEventListener(kind, (event) => {
        const text = told(figure, event);
        if (text && text !== says.textContent) says.textContent = text;
      });
    }
  }
})();
