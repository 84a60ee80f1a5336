//! The program that the browser runs. Natively it is empty, so that the workspace builds and tests everywhere.

#[cfg(target_arch = "wasm32")]
#[expect(
    unreachable_pub,
    clippy::needless_pass_by_value,
    reason = "the component macro makes the properties of a component public, and a component owns them"
)]
mod page;

fn main() {
    #[cfg(target_arch = "wasm32")]
    page::start();
}
