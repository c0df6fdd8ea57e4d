//! Flat colour: one for each object.

use std::cell::RefCell;
use std::rc::Rc;

use kiss3d::camera::Camera3d;
use kiss3d::glamx::{Pose3, Vec3};
use kiss3d::light::LightCollection;
use kiss3d::resource::vertex_index::VERTEX_INDEX_FORMAT;
use kiss3d::resource::{GpuData, GpuMesh3d, Material3d, RenderContext, RenderPhase};
use kiss3d::scene::{InstancesBuffer3d, ObjectData3d};

use super::buffers::loaded;
use super::pipeline::{Kind, Pipeline};
use super::uniforms::Uniforms;

/// A material to share between all objects.
pub type Shared = Rc<RefCell<Box<dyn Material3d + 'static>>>;

struct Matte {
    pipeline: Pipeline,
}

/// A new material. The graphics crate must have been started: open a window or a surface first.
#[must_use]
pub fn shared() -> Shared {
    Rc::new(RefCell::new(Box::new(Matte { pipeline: Pipeline::new(Kind::Matte) })))
}

/// A material that leaves out every second pixel. The graphics crate must have been started.
#[must_use]
pub fn ghost() -> Shared {
    Rc::new(RefCell::new(Box::new(Matte { pipeline: Pipeline::new(Kind::Ghost) })))
}

/// A material for the hull about teeth, of which the rim is seen. The graphics crate must have been started.
#[must_use]
pub fn outline() -> Shared {
    Rc::new(RefCell::new(Box::new(Matte { pipeline: Pipeline::new(Kind::Outline) })))
}

impl Material3d for Matte {
    fn create_gpu_data(&self) -> Box<dyn GpuData> {
        Box::new(Uniforms::new(&self.pipeline))
    }

    fn prepare(
        &mut self,
        pass: usize,
        transform: Pose3,
        _scale: Vec3,
        camera: &mut dyn Camera3d,
        _lights: &LightCollection,
        data: &ObjectData3d,
        gpu_data: &mut dyn GpuData,
        _viewport_width: u32,
        _viewport_height: u32,
    ) {
        let Some(uniforms) = gpu_data.as_any_mut().downcast_mut::<Uniforms>() else { return };
        let colour = data.color();
        uniforms.write(camera.view_transform_pair(pass), transform, [colour.r, colour.g, colour.b, colour.a]);
    }

    fn render(
        &mut self,
        _pass: usize,
        _transform: Pose3,
        _scale: Vec3,
        _camera: &mut dyn Camera3d,
        _lights: &LightCollection,
        data: &ObjectData3d,
        mesh: &mut GpuMesh3d,
        _instances: &mut InstancesBuffer3d,
        gpu_data: &mut dyn GpuData,
        render_pass: &mut wgpu::RenderPass<'_>,
        context: &RenderContext,
    ) {
        if context.phase != RenderPhase::Opaque || !data.surface_rendering_active() {
            return;
        }
        let Some(uniforms) = gpu_data.as_any_mut().downcast_mut::<Uniforms>() else { return };
        let Some([coords, normals, faces]) = loaded(mesh) else { return };
        render_pass.set_pipeline(&self.pipeline.fitting(context));
        render_pass.set_bind_group(0, uniforms.group(), &[]);
        render_pass.set_vertex_buffer(0, coords.slice(..));
        render_pass.set_vertex_buffer(1, normals.slice(..));
        render_pass.set_index_buffer(faces.slice(..), VERTEX_INDEX_FORMAT);
        render_pass.draw_indexed(0..mesh.num_indices(), 0, 0..1);
    }
}
