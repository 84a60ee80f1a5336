//! The program that the browser runs. Natively it is empty, so that the workspace builds and tests everywhere.

#[cfg(target_arch = "wasm32")]
#[expect(
    unreachable_pub,
    reason = "the component macro makes the properties of a component public"
)]
mod page;

fn main() {
    #[cfg(target_arch = "wasm32")]
    page::start();
}
