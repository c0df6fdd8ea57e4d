//! Waiting at rest until the display tells of something, so that a window nobody is at takes nothing of a core.
//!
//! The graphics crate can only be asked whether something has happened, and asking sixteen times a second was what was
//! left of a window's cost at rest. What happens comes over a socket to the display, which is one of this program's own
//! open files: it is found by the name of its other end.

use std::time::Duration;

/// The sockets to the display, where there are any.
pub(super) struct Doorbell {
    #[cfg(target_os = "linux")]
    sockets: Vec<std::os::unix::net::UnixStream>,
}

#[cfg(not(target_os = "linux"))]
impl Doorbell {
    /// Elsewhere the display is asked.
    pub(super) const fn find() -> Self {
        Self {}
    }

    pub(super) const fn waited(&self, _longest: Duration) -> bool {
        false
    }
}

#[cfg(target_os = "linux")]
mod linux {
    use std::fs;
    use std::os::fd::BorrowedFd;
    use std::os::unix::ffi::OsStrExt as _;
    use std::os::unix::net::{SocketAddr, UnixStream};

    use rustix::event::{PollFd, PollFlags, Timespec, poll};

    use super::{Doorbell, Duration};

    impl Doorbell {
        /// Finds the sockets. The window must have been opened.
        pub(in crate::native) fn find() -> Self {
            let numbers = fs::read_dir("/proc/self/fd").into_iter().flatten().flatten();
            let numbers = numbers.filter_map(|entry| entry.file_name().to_str()?.parse().ok());
            let sockets = numbers.filter_map(duplicate).filter(|socket| {
                // What is no socket has no other end, nor has one that nobody is at.
                socket.peer_addr().is_ok_and(|end| is_display(&end))
            });
            Self { sockets: sockets.collect() }
        }

        /// Waits until the display tells of something, no longer than that. Whether it could be waited for.
        pub(in crate::native) fn waited(&self, longest: Duration) -> bool {
            if self.sockets.is_empty() {
                return false;
            }
            let mut asked: Vec<_> =
                self.sockets.iter().map(|socket| PollFd::new(socket, PollFlags::IN)).collect();
            let longest = Timespec::try_from(longest).ok();
            let answered = poll(&mut asked, longest.as_ref());
            // A display that has gone away would answer at once, again and again.
            answered.is_ok() && asked.iter().all(|socket| (PollFlags::IN).contains(socket.revents()))
        }
    }

    /// One of this program's own open files once more, by its number.
    #[allow(unsafe_code)]
    fn duplicate(number: i32) -> Option<UnixStream> {
        // SAFETY: The number is only used to duplicate the file, which fails where it has been closed since it was listed.
        let borrowed = unsafe { BorrowedFd::borrow_raw(number) };
        borrowed.try_clone_to_owned().ok().map(UnixStream::from)
    }

    /// Whether this is the end of a display: X11 listens in a folder of that name, Wayland at files of that name.
    fn is_display(end: &SocketAddr) -> bool {
        use std::os::linux::net::SocketAddrExt as _;
        let name =
            end.as_pathname().map(|path| path.as_os_str().as_bytes()).or_else(|| end.as_abstract_name());
        let name = String::from_utf8_lossy(name.unwrap_or_default());
        let (folder, file) = name.rsplit_once('/').unwrap_or(("", &name));
        folder.ends_with("/.X11-unix") || file.starts_with("wayland-")
    }

    #[cfg(test)]
    mod tests {
        use std::io::{Read as _, Write as _};
        use std::os::unix::net::UnixListener;

        use super::*;

        #[test]
        fn it_finds_the_display_and_hears_it() {
            let folder = tempfile::tempdir().unwrap();
            for name in [".X11-unix/X77", "wayland-7", "letters"] {
                let path = folder.path().join(name);
                fs::create_dir_all(path.parent().unwrap()).unwrap();
                let listener = UnixListener::bind(&path).unwrap();
                let mut own = UnixStream::connect(&path).unwrap();
                let (mut display, _) = listener.accept().unwrap();
                // Other tests of this program may have other sockets: only this one is looked at.
                let is_own = |socket: &UnixStream| {
                    socket.peer_addr().is_ok_and(|end| end.as_pathname() == Some(path.as_path()))
                };
                let Doorbell { mut sockets } = Doorbell::find();
                sockets.retain(is_own);
                let bell = Doorbell { sockets };
                assert_eq!(bell.waited(Duration::ZERO), name != "letters", "{name}");
                if name == "letters" {
                    continue;
                }
                display.write_all(b"!").unwrap();
                // However long it might wait, it has been rung.
                assert!(bell.waited(Duration::MAX), "{name}");
                own.read_exact(&mut [0]).unwrap();
                drop(display);
                assert!(!bell.waited(Duration::ZERO), "{name}: nobody is there");
            }
        }
    }
}
