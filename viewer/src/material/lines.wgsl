// Lines of so many pixels' width, a little before the surfaces that they lie on.
struct Look { view: mat4x4<f32>, projection: mat4x4<f32>, pixels: vec4<f32> }

@group(0) @binding(0) var<uniform> look: Look;

// How much nearer, in parts of the depth.
const FORWARD: f32 = 0.004;

struct Out {
    @builtin(position) clip: vec4<f32>,
    @location(0) @interpolate(flat) colour: vec3<f32>,
}

@vertex
fn vertex(
    @builtin(vertex_index) corner: u32,
    @location(0) start: vec4<f32>,
    @location(1) end: vec4<f32>,
    @location(2) colour: vec4<f32>,
) -> Out {
    // Two triangles: at the start or the end, to the one side or the other.
    let at_end = corner == 1u || corner == 2u || corner == 4u;
    let side = select(0.5, -0.5, corner == 0u || corner == 1u || corner == 3u);
    // The picture is in parallel projection: w is 1.
    let ends = array<vec4<f32>, 2>(
        look.projection * look.view * vec4<f32>(start.xyz, 1.0),
        look.projection * look.view * vec4<f32>(end.xyz, 1.0),
    );
    let pixels = look.pixels.xy;
    let along = pixels * 0.5 * (ends[1].xy - ends[0].xy);
    let long = length(along);
    let across = select(vec2<f32>(0.0, 1.0), vec2<f32>(-along.y, along.x) / max(long, 1e-6), long > 0.001);
    var clip = ends[0];
    if at_end {
        clip = ends[1];
    }
    let width = start.w;
    var out: Out;
    out.clip = vec4<f32>(clip.xy + 2.0 * width * side * across / pixels, clip.z * (1.0 - FORWARD), 1.0);
    out.colour = colour.rgb;
    return out;
}

@fragment
fn fragment(in: Out) -> @location(0) vec4<f32> {
    return coded(in.colour);
}
