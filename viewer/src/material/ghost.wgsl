// A second set-up over the first: every second pixel is left out, so that both are seen without blending.

struct Out {
    @builtin(position) clip: vec4<f32>,
    @location(0) normal: vec3<f32>,
}

@vertex
fn vertex(@location(0) position: vec3<f32>, @location(1) normal: vec3<f32>) -> Out {
    var out: Out;
    let model_view = thing.view * thing.pose;
    out.clip = thing.projection * model_view * vec4<f32>(position, 1.0);
    // A little farther off, so that what is the same in both set-ups shows the first.
    out.clip.z += 0.0006 * out.clip.w;
    out.normal = (model_view * vec4<f32>(normal, 0.0)).xyz;
    return out;
}

@fragment
fn fragment(in: Out) -> @location(0) vec4<f32> {
    let pixel = vec2<u32>(u32(in.clip.x), u32(in.clip.y));
    if ((pixel.x + pixel.y) % 2u == 1u) {
        discard;
    }
    let outward = normalize(in.normal);
    let light = 0.55 + 0.45 * abs(outward.z);
    return coded(thing.colour.rgb * light);
}
