//! The page's server, asked over HTTP as a browser asks, and as somebody who means no good does.
//!
//! What is refused and why follows the OWASP cheat sheets on cross-site request forgery, DNS
//! rebinding and file upload, and RFC 9110 and 9112.

mod ask;
mod coming_in;
mod refused;
mod work;
