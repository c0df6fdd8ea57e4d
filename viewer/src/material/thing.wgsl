// An object: where the camera is and how it projects, where the object stands, and its colour.
struct Thing { view: mat4x4<f32>, projection: mat4x4<f32>, pose: mat4x4<f32>, colour: vec4<f32> }

@group(0) @binding(0) var<uniform> thing: Thing;
