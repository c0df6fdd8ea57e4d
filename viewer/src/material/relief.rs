//! A colour at each vertex, lit from the side so that fissures and cusps stand out.

use std::any::Any;
use std::cell::RefCell;
use std::rc::Rc;

use kiss3d::camera::Camera3d;
use kiss3d::context::Context;
use kiss3d::glamx::{Pose3, Vec3};
use kiss3d::light::LightCollection;
use kiss3d::resource::vertex_index::VERTEX_INDEX_FORMAT;
use kiss3d::resource::{GpuData, GpuMesh3d, Material3d, RenderContext, RenderPhase};
use kiss3d::scene::{InstancesBuffer3d, ObjectData3d};

use super::buffers::loaded;
use super::matte::Shared;
use super::pipeline::{Kind, Pipeline};
use super::uniforms::Uniforms;

/// What is painted on one cast.
#[derive(Clone, Debug, Default)]
pub struct Paint {
    vertices: Vec<[u8; 4]>,
    modelling: f32,
    revision: u64,
}

/// A paint and the material that shows it share it.
pub type SharedPaint = Rc<RefCell<Paint>>;

impl Paint {
    /// Paints anew: red, green, blue as on the screen and, fourth, 128 on even ground, less in a
    /// hollow and more on a ridge. `modelling` is how strongly the light models the surface, 0 to 1.
    pub fn set(&mut self, vertices: Vec<[u8; 4]>, modelling: f32) {
        self.vertices = vertices;
        self.modelling = modelling;
        self.revision += 1;
    }
}

struct Relief {
    pipeline: Pipeline,
    paint: SharedPaint,
}

/// The buffers of one object.
struct Buffers {
    uniforms: Uniforms,
    /// The paint as the driver has it, and which revision that is.
    paint: Option<(wgpu::Buffer, u64)>,
}

impl GpuData for Buffers {
    fn as_any(&self) -> &dyn Any {
        self
    }

    fn as_any_mut(&mut self) -> &mut dyn Any {
        self
    }
}

/// A material for the one object that wears this paint; the paint must have as many vertices as the
/// object's mesh. The graphics crate must have been started.
#[must_use]
pub fn relief(paint: SharedPaint) -> Shared {
    Rc::new(RefCell::new(Box::new(Relief { pipeline: Pipeline::new(Kind::Relief), paint })))
}

impl Buffers {
    /// Hands the paint over where it has changed.
    fn load(&mut self, paint: &Paint) -> Option<&wgpu::Buffer> {
        if paint.vertices.is_empty() {
            return None;
        }
        let bytes: &[u8] = bytemuck::cast_slice(&paint.vertices);
        let context = Context::get();
        let size = bytes.len() as u64;
        if self.paint.as_ref().is_none_or(|(buffer, _)| buffer.size() != size) {
            let buffer = context.create_buffer(&wgpu::BufferDescriptor {
                label: Some("paint"),
                size,
                usage: wgpu::BufferUsages::VERTEX | wgpu::BufferUsages::COPY_DST,
                mapped_at_creation: false,
            });
            // No paint has revision 0, so what follows fills it.
            self.paint = Some((buffer, 0));
        }
        let (buffer, revision) = self.paint.as_mut()?;
        if *revision != paint.revision {
            context.write_buffer(buffer, 0, bytes);
            *revision = paint.revision;
        }
        Some(buffer)
    }
}

impl Material3d for Relief {
    fn create_gpu_data(&self) -> Box<dyn GpuData> {
        Box::new(Buffers { uniforms: Uniforms::new(&self.pipeline), paint: None })
    }

    fn prepare(
        &mut self,
        pass: usize,
        transform: Pose3,
        _scale: Vec3,
        camera: &mut dyn Camera3d,
        _lights: &LightCollection,
        _data: &ObjectData3d,
        gpu_data: &mut dyn GpuData,
        _viewport_width: u32,
        _viewport_height: u32,
    ) {
        let Some(buffers) = gpu_data.as_any_mut().downcast_mut::<Buffers>() else { return };
        let modelling = [self.paint.borrow().modelling, 0.0, 0.0, 0.0];
        buffers.uniforms.write(camera.view_transform_pair(pass), transform, modelling);
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
        let Some(buffers) = gpu_data.as_any_mut().downcast_mut::<Buffers>() else { return };
        let paint = self.paint.borrow();
        let Some([coords, normals, faces]) = loaded(mesh) else { return };
        // A paint for another mesh is not worn: the driver would read past its end.
        if coords.size() / 12 > paint.vertices.len() as u64 {
            return;
        }
        let Some(colours) = buffers.load(&paint).cloned() else { return };
        render_pass.set_pipeline(&self.pipeline.fitting(context));
        render_pass.set_bind_group(0, buffers.uniforms.group(), &[]);
        render_pass.set_vertex_buffer(0, coords.slice(..));
        render_pass.set_vertex_buffer(1, normals.slice(..));
        render_pass.set_vertex_buffer(2, colours.slice(..));
        render_pass.set_index_buffer(faces.slice(..), VERTEX_INDEX_FORMAT);
        render_pass.draw_indexed(0..mesh.num_indices(), 0, 0..1);
    }
}
