//! The server: from binding to the last stream ended.

use std::io;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{Semaphore, mpsc};

use super::app::App;
use super::guard::Door;
use super::{browser, routes};
use crate::commands::Failure;

/// Connections at a time.
const MOST_CONNECTIONS: usize = 128;
/// How long a browser may take to say what it asks for.
const HEADERS_WITHIN: Duration = Duration::from_secs(10);
/// How long streams are waited for in the end.
const ENDS_WITHIN: Duration = Duration::from_secs(2);

/// What to serve, and how.
#[derive(Clone, Debug, Default)]
pub struct PageOrder {
    /// The job's folder; one is chosen or begun on the page when not given.
    pub job: Option<PathBuf>,
    /// The folder in which jobs are looked for and begun.
    pub home: PathBuf,
    /// The port; one that is free when not given.
    pub port: Option<u16>,
    /// An address of this machine by which phones reach it too.
    pub lan: Option<Ipv4Addr>,
    /// Whether the browser is opened.
    pub open: bool,
}

/// Why the page can't be served.
#[derive(Debug, thiserror::Error)]
pub enum PageTrouble {
    /// The port is taken, or not to be had.
    #[error("port {port} can't be had: {why}; leave out --port to take one that is free")]
    Port {
        /// The port.
        port: u16,
        /// What the system says.
        why: io::Error,
    },
    /// The system has no room for a server.
    #[error("the page can't be served: {0}")]
    System(#[from] io::Error),
    /// The job can't be opened.
    #[error(transparent)]
    Job(#[from] Failure),
}

/// Who is told how it goes, and who says when it ends.
pub trait Talk: Sync {
    /// The page is there. `address` lets one browser in; `phone` lets one phone in.
    fn serving(&self, address: &str, phone: Option<&str>);
    /// The browser could not be opened.
    fn not_opened(&self, why: &io::Error);
    /// Whether to end.
    fn ends(&self) -> bool;
}

/// Serves the page until told to end.
///
/// # Errors
/// [`PageTrouble`].
pub fn serve(order: &PageOrder, talk: &dyn Talk) -> Result<(), PageTrouble> {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()?;
    let served = runtime.block_on(run(order, talk));
    // Searches that still run see that they are not wanted any more.
    runtime.shutdown_timeout(ENDS_WITHIN);
    served
}

async fn run(order: &PageOrder, talk: &dyn Talk) -> Result<(), PageTrouble> {
    let listeners = bind(order).await?;
    let addresses: Vec<SocketAddr> = listeners
        .iter()
        .map(TcpListener::local_addr)
        .collect::<io::Result<_>>()?;
    let app = Arc::new(App::new(Door::new(&addresses), order.home.clone()));
    if let Some(job) = &order.job {
        app.open(job)?;
    }
    let (served, mut all_served) = mpsc::channel::<()>(1);
    for listener in listeners {
        tokio::spawn(accept(listener, Arc::clone(&app), served.clone()));
    }
    drop(served);
    let _file = announce(order, &app, &addresses, talk);
    while !talk.ends() {
        tokio::time::sleep(Duration::from_millis(100)).await;
        let looked = Arc::clone(&app);
        let _ = tokio::task::spawn_blocking(move || looked.job().map(|job| job.look())).await;
    }
    // Streams end first, then connections, then the search.
    app.ending.send_replace(true);
    let _ = tokio::time::timeout(ENDS_WITHIN, all_served.recv()).await;
    app.close();
    Ok(())
}

async fn bind(order: &PageOrder) -> Result<Vec<TcpListener>, PageTrouble> {
    let port = order.port.unwrap_or(0);
    let failed = |why| PageTrouble::Port { port, why };
    let own = TcpListener::bind((Ipv4Addr::LOCALHOST, port))
        .await
        .map_err(failed)?;
    let port = own.local_addr()?.port();
    let mut listeners = vec![own];
    if let Some(lan) = order.lan {
        let bound = TcpListener::bind((lan, port)).await;
        listeners.push(bound.map_err(|why| PageTrouble::Port { port, why })?);
    }
    Ok(listeners)
}

fn announce(
    order: &PageOrder,
    app: &App,
    addresses: &[SocketAddr],
    talk: &dyn Talk,
) -> Option<tempfile::NamedTempFile> {
    let inside = |host: &dyn std::fmt::Display, code: &str| format!("http://{host}/in?code={code}");
    let phone = addresses
        .get(1)
        .map(|lan| inside(lan, &app.door.code(false)));
    talk.serving(
        &inside(&addresses[0], &app.door.code(true)),
        phone.as_deref(),
    );
    if !order.open {
        return None;
    }
    let opened = browser::open(&inside(&addresses[0], &app.door.code(true)));
    opened.map_err(|why| talk.not_opened(&why)).ok()
}

async fn accept(listener: TcpListener, app: Arc<App>, served: mpsc::Sender<()>) {
    let room = Arc::new(Semaphore::new(MOST_CONNECTIONS));
    let router = routes::router(&app);
    let mut ending = app.ending.subscribe();
    loop {
        let Ok(permit) = Arc::clone(&room).acquire_owned().await else {
            return;
        };
        let accepted = tokio::select! {
            accepted = listener.accept() => accepted,
            _ = ending.wait_for(|ending| *ending) => return,
        };
        let Ok((stream, from)) = accepted else {
            // Too many files are open, perhaps: soon there are fewer.
            tokio::time::sleep(Duration::from_millis(50)).await;
            continue;
        };
        let router = router.clone();
        let (mut ending, served) = (app.ending.subscribe(), served.clone());
        tokio::spawn(async move {
            let _held = (permit, served);
            let asked = async {
                let _ = ending.wait_for(|ending| *ending).await;
            };
            connection(stream, from, router, asked).await;
        });
    }
}

async fn connection(
    stream: TcpStream,
    from: SocketAddr,
    router: Router,
    ending: impl Future<Output = ()>,
) {
    let _ = stream.set_nodelay(true);
    let router = router.layer(axum::Extension(Caller(from.ip(), from.port())));
    let connection = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(HEADERS_WITHIN)
        .max_buf_size(64 << 10)
        .serve_connection(TokioIo::new(stream), TowerToHyperService::new(router));
    tokio::pin!(connection);
    tokio::select! {
        _ = connection.as_mut() => {}
        () = ending => {
            connection.as_mut().graceful_shutdown();
            let _ = connection.await;
        }
    }
}

/// Where a request comes from.
#[derive(Clone, Copy, Debug)]
pub struct Caller(pub IpAddr, pub u16);

impl Caller {
    /// As a socket's address.
    pub fn address(self) -> SocketAddr {
        SocketAddr::new(self.0, self.1)
    }
}
