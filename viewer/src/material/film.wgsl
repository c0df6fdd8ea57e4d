// From the film to the screen: one triangle that covers it, a pixel for a pixel.
@group(0) @binding(0) var film: texture_2d<f32>;

@vertex
fn vertex(@builtin(vertex_index) corner: u32) -> @builtin(position) vec4<f32> {
    let at = vec2<f32>(f32((corner << 1u) & 2u), f32(corner & 2u));
    return vec4<f32>(2.0 * at - 1.0, 0.0, 1.0);
}

@fragment
fn fragment(@builtin(position) at: vec4<f32>) -> @location(0) vec4<f32> {
    return coded(textureLoad(film, vec2<i32>(at.xy), 0).rgb);
}
