//! The door: one port of the loopback, by both of its addresses.

use crate::guard::Own;
use crate::page::Page;
use crate::report::Setter;
use crate::router::router;
use std::future::Future;
use std::io::{self, ErrorKind};
use std::net::{Ipv4Addr, Ipv6Addr, SocketAddr, TcpListener};

/// The port that is used where none is chosen: always the same, because a browser keeps what is entered by the
/// address, and the port is part of it. On the keys of a telephone it spells POOL.
pub const PORT: u16 = 7665;

/// Why the page cannot be served.
#[derive(Debug, thiserror::Error)]
pub enum ServeError {
    /// Another program has the port.
    #[error("port {port} is in use by another program")]
    Busy {
        /// The port.
        port: u16,
    },
    /// The port cannot be had, or the server stopped.
    #[error("port {port} cannot be served: {source}")]
    Failed {
        /// The port.
        port: u16,
        /// Why.
        source: io::Error,
    },
}

/// A port that is ours.
pub struct Door {
    port: u16,
    listeners: Vec<TcpListener>,
    setter: Option<Setter>,
}

impl Door {
    /// Takes a port of the loopback; 0 takes a free one.
    pub fn open(port: u16) -> Result<Self, ServeError> {
        let failed = |source: io::Error| match source.kind() {
            ErrorKind::AddrInUse => ServeError::Busy { port },
            _ => ServeError::Failed { port, source },
        };
        let first = listener(SocketAddr::from((Ipv4Addr::LOCALHOST, port))).map_err(failed)?;
        let port = first.local_addr().map_err(failed)?.port();
        let mut listeners = vec![first];
        match listener(SocketAddr::from((Ipv6Addr::LOCALHOST, port))) {
            Ok(second) => listeners.push(second),
            Err(error) if error.kind() == ErrorKind::AddrInUse => return Err(failed(error)),
            // A machine without the newer address has one door less, and needs it no less.
            Err(_) => {}
        }
        Ok(Self {
            port,
            listeners,
            setter: None,
        })
    }

    /// Has reports set as PDF here.
    #[must_use]
    pub fn setting(self, setter: Option<Setter>) -> Self {
        Self { setter, ..self }
    }

    /// Returns the address of the page.
    pub fn address(&self) -> String {
        format!("{}/", Own::at(self.port).origin())
    }

    /// Returns the port.
    pub fn port(&self) -> u16 {
        self.port
    }

    /// Serves the page until `stop` is done.
    pub fn serve(self, page: Page, stop: impl Future<Output = ()>) -> Result<(), ServeError> {
        let port = self.port;
        let failed = |source| ServeError::Failed { port, source };
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_io()
            .build()
            .map_err(failed)?;
        let routes = router(Own::at(port), page, self.setter);
        runtime
            .block_on(async {
                let mut doors = tokio::task::JoinSet::new();
                for listener in self.listeners {
                    let listener = tokio::net::TcpListener::from_std(listener)?;
                    let routes = routes.clone();
                    doors.spawn(async move { axum::serve(listener, routes).await });
                }
                tokio::select! {
                    () = stop => Ok(()),
                    Some(ended) = doors.join_next() => ended.map_err(io::Error::other)?,
                }
            })
            .map_err(failed)
    }

    /// Serves the page until the person interrupts the program.
    pub fn serve_until_interrupted(self, page: Page) -> Result<(), ServeError> {
        self.serve(page, async {
            // Where interrupts cannot be heard, the system ends the program by itself.
            if tokio::signal::ctrl_c().await.is_err() {
                std::future::pending::<()>().await;
            }
        })
    }
}

fn listener(address: SocketAddr) -> io::Result<TcpListener> {
    let listener = TcpListener::bind(address)?;
    listener.set_nonblocking(true)?;
    Ok(listener)
}
