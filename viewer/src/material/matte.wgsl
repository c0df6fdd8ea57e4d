// Two lamps that stay with the viewer, and no more: cheap enough for a software driver.

struct Out {
    @builtin(position) clip: vec4<f32>,
    @location(0) normal: vec3<f32>,
}

@vertex
fn vertex(@location(0) position: vec3<f32>, @location(1) normal: vec3<f32>) -> Out {
    var out: Out;
    let model_view = thing.view * thing.pose;
    out.clip = thing.projection * model_view * vec4<f32>(position, 1.0);
    out.normal = (model_view * vec4<f32>(normal, 0.0)).xyz;
    return out;
}

@fragment
fn fragment(in: Out, @builtin(front_facing) front: bool) -> @location(0) vec4<f32> {
    // Sheets are seen from both sides: turn the normal to the eye.
    let outward = normalize(in.normal);
    let normal = select(-outward, outward, outward.z >= 0.0);
    let key = max(dot(normal, normalize(vec3<f32>(-0.45, 0.65, 0.62))), 0.0);
    let fill = max(dot(normal, normalize(vec3<f32>(0.70, -0.10, 0.70))), 0.0);
    let light = 0.34 + 0.52 * key + 0.20 * fill;
    return coded(thing.colour.rgb * light);
}
