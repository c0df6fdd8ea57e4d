// Casts: a colour at each vertex, a raking lamp that stays with the viewer, hollows darker than ridges.
// colour.r is how strongly the light models the surface, 0 to 1; the rest is not used.

struct Out {
    @builtin(position) clip: vec4<f32>,
    @location(0) normal: vec3<f32>,
    // Linear colour, and the light that hollows lose and ridges gain.
    @location(1) colour: vec4<f32>,
}

@vertex
fn vertex(
    @location(0) position: vec3<f32>,
    @location(1) normal: vec3<f32>,
    @location(2) paint: vec4<f32>,
) -> Out {
    var out: Out;
    let model_view = thing.view * thing.pose;
    out.clip = thing.projection * model_view * vec4<f32>(position, 1.0);
    out.normal = (model_view * vec4<f32>(normal, 0.0)).xyz;
    out.colour = vec4<f32>(pow(paint.rgb, vec3<f32>(2.2)), 1.0 + 0.9 * (paint.a - 0.5) * thing.colour.r);
    return out;
}

@fragment
fn fragment(in: Out, @builtin(front_facing) front: bool) -> @location(0) vec4<f32> {
    let outward = normalize(in.normal);
    // The back of an open scan is seen from inside: shown, but darker.
    let inside = select(0.55, 1.0, front);
    // At an edge the mean normal may look away from an eye that still sees the triangle.
    let normal = select(outward, -outward, outward.z < 0.0);
    let key = max(dot(normal, vec3<f32>(-0.6537, 0.5883, 0.4761)), 0.0);
    let fill = max(dot(normal, vec3<f32>(0.5571, 0.0, 0.8305)), 0.0);
    let modelled = 0.26 + 0.62 * key + 0.30 * fill;
    let light = mix(0.92, modelled, thing.colour.r) * in.colour.a * inside;
    return coded(in.colour.rgb * light);
}
