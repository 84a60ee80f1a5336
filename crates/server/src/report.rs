//! The one answer beside the files: a report set as a PDF. Who serves the page brings what sets it; here nothing is read of
//! an order but that it is one, and nothing is computed.

use axum::body::Bytes;
use axum::extract::{DefaultBodyLimit, State};
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get};
use std::sync::Arc;
use tokio::sync::Mutex;

use crate::guard::MOST_BODY_BYTES;

/// Where it is asked for: a look says whether PDF is made here, an order is answered with one.
pub const PATH: &str = "/api/report";

/// Sets a report: from the bytes of an order, which is JSON, to those of a PDF; or why not, in words for the person.
pub type Setter = Arc<dyn Fn(&[u8]) -> Result<Vec<u8>, String> + Send + Sync>;

/// What sets reports here, and whose turn it is: one is set at a time, however many are asked for.
#[derive(Clone, Default)]
struct Press {
    setter: Option<Setter>,
    turn: Arc<Mutex<()>>,
}

/// Makes the route; without a setter it says that no PDF is made here.
pub(crate) fn route(setter: Option<Setter>) -> MethodRouter {
    let most = usize::try_from(MOST_BODY_BYTES).unwrap_or(usize::MAX);
    get(can)
        .post(set)
        .layer(DefaultBodyLimit::max(most))
        .with_state(Press {
            setter,
            turn: Arc::default(),
        })
}

async fn can(State(press): State<Press>) -> Response {
    let json = format!("{{\"format\":1,\"pdf\":{}}}\n", press.setter.is_some());
    ([(CONTENT_TYPE, "application/json")], json).into_response()
}

async fn set(State(press): State<Press>, order: Bytes) -> Response {
    let Some(setter) = press.setter else {
        return (StatusCode::NOT_IMPLEMENTED, "this server makes no PDF").into_response();
    };
    let _turn = press.turn.lock().await;
    // Setting takes a second: it must not keep the files of the page from anybody.
    match tokio::task::spawn_blocking(move || setter(&order)).await {
        Ok(Ok(pdf)) => ([(CONTENT_TYPE, "application/pdf")], pdf).into_response(),
        Ok(Err(why)) => (StatusCode::UNPROCESSABLE_ENTITY, why).into_response(),
        Err(_) => (
            StatusCode::INTERNAL_SERVER_ERROR,
            "setting the report met a fault of its own; the page's own report is not touched by it",
        )
            .into_response(),
    }
}
