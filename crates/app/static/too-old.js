// Runs only in a browser that knows no modules, and so cannot run anything else of the page.
if (/^es/.test(navigator.language)) document.documentElement.lang = "es";
document.getElementById("too-old").removeAttribute("hidden");
