//! The module that the page loads.

fn main() {
    web::start();
}
