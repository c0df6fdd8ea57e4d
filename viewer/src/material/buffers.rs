//! The buffers of a mesh, as the graphics driver has them.

use kiss3d::resource::GpuMesh3d;

/// The buffers of a mesh, on their way to the graphics driver if they are not there yet.
pub(super) fn loaded(mesh: &GpuMesh3d) -> Option<[wgpu::Buffer; 3]> {
    for buffer in [mesh.coords(), mesh.normals()] {
        if let Ok(mut buffer) = buffer.write() {
            buffer.load_to_gpu();
        }
    }
    if let Ok(mut faces) = mesh.faces().write() {
        faces.load_to_gpu();
    }
    Some([mesh.coords_buffer()?, mesh.normals_buffer()?, mesh.faces_buffer()?])
}
