//! From a request to its response.

use crate::guard::{Own, Verdict};
use crate::headers;
use crate::page::{INDEX, Page};
use crate::report::{self, Setter};
use axum::Router;
use axum::extract::{Request, State};
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::http::{StatusCode, Uri};
use axum::middleware::{self, Next};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use std::sync::Arc;

/// Makes the routes of the page and of what sets its reports, with the guard before them.
pub fn router(own: Own, page: Page, setter: Option<Setter>) -> Router {
    let files = get(file).with_state(Arc::new(page));
    let routes = Router::new().route(report::PATH, report::route(setter));
    guarded(own, routes.fallback_service(files))
}

/// Puts the guard before routes, and what every response carries behind them.
pub fn guarded(own: Own, routes: Router) -> Router {
    routes.layer(middleware::from_fn_with_state(own, judge))
}

async fn judge(State(own): State<Own>, request: Request, next: Next) -> Response {
    let (head, body) = request.into_parts();
    let mut response = match own.verdict(&head) {
        Verdict::Answer => next.run(Request::from_parts(head, body)).await,
        Verdict::SendOn(address) => Redirect::temporary(&address).into_response(),
        Verdict::Refuse(status, why) => (status, why).into_response(),
    };
    headers::add(response.headers_mut());
    response
}

async fn file(State(page): State<Arc<Page>>, uri: Uri) -> Response {
    let name = match uri.path().trim_start_matches('/') {
        "" => INDEX,
        name => name,
    };
    let Some(bytes) = page.file(name) else {
        return (StatusCode::NOT_FOUND, "there is no such file").into_response();
    };
    let head = [
        (CONTENT_TYPE, headers::kind(name)),
        (CACHE_CONTROL, headers::keeping(name)),
    ];
    (head, bytes).into_response()
}
