//! Whether there is something to draw with and somewhere to show it, asked before the graphics
//! crate is started: it would stop the program without a word that helps.

use std::panic::{AssertUnwindSafe, catch_unwind};

use super::error::ViewerError;

/// What draws.
#[derive(Clone, Copy, Debug)]
pub(super) struct Adapter {
    /// A software driver: the picture is then kept plain.
    pub(super) is_software: bool,
}

/// Finds what draws.
///
/// # Errors
/// [`ViewerError::Surroundings`] when there is none.
pub(super) fn adapter() -> Result<Adapter, ViewerError> {
    guarded("looking for a graphics driver", || {
        // Others than the main ones are tried last: looking for them is slow and noisy.
        request(wgpu::Backends::PRIMARY).or_else(|_| request(wgpu::Backends::all()))
    })?
    .map(|adapter| Adapter { is_software: adapter.get_info().device_type == wgpu::DeviceType::Cpu })
    .map_err(|error| {
        ViewerError::Surroundings(format!(
            "no graphics driver was found ({error}). The viewer draws with Vulkan, Metal or Direct3D 12. On Debian \
             and Ubuntu the package mesa-vulkan-drivers has drivers, one of which needs no graphics card"
        ))
    })
}

fn request(backends: wgpu::Backends) -> Result<wgpu::Adapter, wgpu::RequestAdapterError> {
    let instance = wgpu::Instance::new(wgpu::InstanceDescriptor {
        backends,
        ..wgpu::InstanceDescriptor::new_without_display_handle()
    });
    kiss3d::pollster::block_on(instance.request_adapter(&wgpu::RequestAdapterOptions::default()))
}

/// Checks that a window can be opened.
///
/// # Errors
/// [`ViewerError::Surroundings`] names what is missing and the package that has it.
pub(super) fn window() -> Result<(), ViewerError> {
    #[cfg(all(unix, not(target_os = "macos")))]
    desktop()?;
    Ok(())
}

#[cfg(all(unix, not(target_os = "macos")))]
fn desktop() -> Result<(), ViewerError> {
    let is_set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    if is_set("WAYLAND_DISPLAY") || is_set("WAYLAND_SOCKET") {
        return Ok(());
    }
    if !is_set("DISPLAY") {
        return Err(ViewerError::Surroundings(
            "there is no display to open a window on (neither WAYLAND_DISPLAY nor DISPLAY is set); \
             with --snapshot FILE.png the picture is drawn without a window"
                .to_owned(),
        ));
    }
    let present = [
        (x11_dl::xlib::Xlib::open().is_ok(), "libX11", "libx11-6"),
        (x11_dl::xlib_xcb::Xlib_xcb::open().is_ok(), "libX11-xcb", "libx11-xcb1"),
        (x11_dl::xcursor::Xcursor::open().is_ok(), "libXcursor", "libxcursor1"),
        (x11_dl::xinput2::XInput2::open().is_ok(), "libXi", "libxi6"),
        (xkbcommon_dl::xkbcommon_option().is_some(), "libxkbcommon", "libxkbcommon0"),
        (xkbcommon_dl::x11::xkbcommon_x11_option().is_some(), "libxkbcommon-x11", "libxkbcommon-x11-0"),
    ];
    let missing: Vec<_> = present.iter().filter(|(is_there, ..)| !is_there).collect();
    if missing.is_empty() {
        return Ok(());
    }
    let list = |pick: &dyn Fn(&(bool, &'static str, &'static str)) -> &'static str, between: &str| {
        missing.iter().map(|missing| pick(missing)).collect::<Vec<_>>().join(between)
    };
    Err(ViewerError::Surroundings(format!(
        "a window cannot be opened: {} not found. On Debian and Ubuntu: apt install {}; with --snapshot FILE.png the \
         picture is drawn without a window",
        list(&|missing| missing.1, ", "),
        list(&|missing| missing.2, " "),
    )))
}

/// Runs what may stop the program from within the graphics crate, and turns that into words.
///
/// # Errors
/// [`ViewerError::Surroundings`] with what the crate said.
pub(super) fn guarded<T>(doing: &str, work: impl FnOnce() -> T) -> Result<T, ViewerError> {
    let hook = std::panic::take_hook();
    std::panic::set_hook(Box::new(|_| {}));
    let done = catch_unwind(AssertUnwindSafe(work));
    std::panic::set_hook(hook);
    done.map_err(|said| {
        let said = said
            .downcast_ref::<String>()
            .map(String::as_str)
            .or_else(|| said.downcast_ref::<&str>().copied())
            .unwrap_or("no reason given");
        ViewerError::Surroundings(format!("{doing} failed: {said}"))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_becomes_words() {
        let error = guarded("opening", || panic!("no {}", "luck")).unwrap_err();
        assert_eq!(error.to_string(), "opening failed: no luck");
        assert_eq!(error.status(), 2);
    }
}
