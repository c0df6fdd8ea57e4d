// How colours are written: 1 as light is reckoned, else for the screen at once.
override code: f32 = 1.0;

fn coded(colour: vec3<f32>) -> vec4<f32> {
    return vec4<f32>(pow(clamp(colour, vec3<f32>(0.0), vec3<f32>(1.0)), vec3<f32>(code)), 1.0);
}
