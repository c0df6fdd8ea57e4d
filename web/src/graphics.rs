//! What draws, made ready here where the graphics crate would give up.
//!
//! By WebGL2 some of what kiss3d makes at its beginning, and this viewer never uses, is refused: meshes as wires and
//! points read their vertices from storage, which WebGL2 has not. Where it makes the device itself a refusal ends the
//! program, so the device is made here, and refusals are told to the console.

use std::sync::Arc;

use kiss3d::context::Context;
use wasm_bindgen::JsCast as _;
use web_sys::HtmlCanvasElement;
use wgpu::{Backends, DeviceDescriptor, Instance, InstanceDescriptor, RequestAdapterOptions, SurfaceTarget};

/// Makes WebGL2 ready on the canvas of the page.
///
/// # Errors
/// Why there is none, in words.
pub async fn make_webgl2_ready() -> Result<(), String> {
    let canvas = web_sys::window()
        .and_then(|window| {
            window.document()?.get_element_by_id("canvas")?.dyn_into::<HtmlCanvasElement>().ok()
        })
        .ok_or("the page has no canvas")?;
    let instance = Instance::new(InstanceDescriptor {
        backends: Backends::GL,
        ..InstanceDescriptor::new_without_display_handle()
    });
    let said = |error: &dyn std::error::Error| error.to_string();
    let surface = instance.create_surface(SurfaceTarget::Canvas(canvas)).map_err(|error| said(&error))?;
    let options =
        RequestAdapterOptions { compatible_surface: Some(&surface), ..RequestAdapterOptions::default() };
    let adapter = instance.request_adapter(&options).await.map_err(|error| said(&error))?;
    let wanted = DeviceDescriptor { required_limits: adapter.limits(), ..DeviceDescriptor::default() };
    let (device, queue) = adapter.request_device(&wanted).await.map_err(|error| said(&error))?;
    device.on_uncaptured_error(Arc::new(|error| crate::page::log(&error.to_string())));
    // As kiss3d chooses it: its shaders correct the colours themselves.
    let formats = surface.get_capabilities(&adapter).formats;
    let format = formats.iter().find(|format| !format.is_srgb()).or(formats.first());
    let format = *format.ok_or("its surface has no format")?;
    Context::init(instance, device, queue, adapter, format);
    Ok(())
}
