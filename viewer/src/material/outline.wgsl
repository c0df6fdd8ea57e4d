// The edge of a tooth: a larger hull of one colour, far enough behind the tooth that only its rim is seen.

@vertex
fn vertex(@location(0) position: vec3<f32>, @location(1) normal: vec3<f32>) -> @builtin(position) vec4<f32> {
    var clip = thing.projection * thing.view * thing.pose * vec4<f32>(position, 1.0);
    clip.z += 0.0022 * clip.w;
    return clip;
}

@fragment
fn fragment() -> @location(0) vec4<f32> {
    return coded(thing.colour.rgb);
}
