// The edge of a tooth: a larger hull of one colour, far enough behind the tooth that only its rim is seen.
struct Frame { view: mat4x4<f32>, projection: mat4x4<f32> }
struct Thing { pose: mat4x4<f32>, colour: vec4<f32> }

@group(0) @binding(0) var<uniform> frame: Frame;
@group(1) @binding(0) var<uniform> thing: Thing;

@vertex
fn vertex(@location(0) position: vec3<f32>, @location(1) normal: vec3<f32>) -> @builtin(position) vec4<f32> {
    var clip = frame.projection * frame.view * thing.pose * vec4<f32>(position, 1.0);
    clip.z += 0.0022 * clip.w;
    return clip;
}

@fragment
fn fragment() -> @location(0) vec4<f32> {
    return vec4<f32>(thing.colour.rgb, 1.0);
}
