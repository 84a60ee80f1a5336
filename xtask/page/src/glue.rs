//! The JavaScript between the browser and the module, written by wasm-bindgen as a library.

use std::path::Path;

use wasm_bindgen_cli_support::Bindgen;

use crate::error::Error;
use crate::files::Files;

/// What the two files are called before their hash.
const STEM: &str = "app";

/// Gives `app.js` and `app_bg.wasm`.
pub(crate) fn files(module: &Path) -> Result<Files, Error> {
    let glue = |error| Error::Glue(format!("{error:#}"));
    let mut bindgen = Bindgen::new();
    bindgen.input_path(module).out_name(STEM).typescript(false);
    // The glue then names the module itself, and is given its hashed name like any other file.
    bindgen.omit_default_module_path(false);
    bindgen.remove_name_section(true);
    bindgen.remove_producers_section(true);
    bindgen.web(true).map_err(glue)?;
    let mut output = bindgen.generate_output().map_err(glue)?;
    Ok(Files::from([
        (format!("{STEM}.js"), output.js().as_bytes().to_owned()),
        (format!("{STEM}_bg.wasm"), output.wasm_mut().emit_wasm()),
    ]))
}
