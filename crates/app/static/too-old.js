// Runs only in a browser that knows no modules, and so cannot run anything else of the page.
document.getElementById("too-old").removeAttribute("hidden");
