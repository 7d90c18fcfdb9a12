#version 120
// The eye without its cornea, baked once: sclera, limbus, iris, pupil. Place: mm in the field's frame.
// Vessels are drawn over it as strips (eye_ground.cpp).
uniform vec2 eye_centre;    // mm; the pupil's
uniform float limbus_mm;    // radius
uniform float pupil_mm;     // radius

const float kTurn = 6.28318531;

float hash(vec2 p) { return fract(sin(dot(p, vec2(127.1, 311.7))) * 43758.5453); }

// Value noise; wraps round after `period` cells along x, so that it closes around the eye.
float noise(vec2 p, float period) {
    vec2 cell = floor(p), f = fract(p);
    vec2 s = f * f * (3.0 - 2.0 * f);
    float x0 = mod(cell.x, period), x1 = mod(cell.x + 1.0, period);
    return mix(mix(hash(vec2(x0, cell.y)), hash(vec2(x1, cell.y)), s.x),
               mix(hash(vec2(x0, cell.y + 1.0)), hash(vec2(x1, cell.y + 1.0)), s.x), s.y);
}

float cloud(vec2 p) {
    return 0.5 * noise(p, 4096.0) + 0.3 * noise(p * 2.1 + 7.3, 4096.0) + 0.2 * noise(p * 4.3 + 1.9, 4096.0);
}

vec3 iris_colour(float around, float r) {
    float across = (r - pupil_mm) / (limbus_mm - 0.5 - pupil_mm);  // 0 at the pupil, 1 at the root
    float wander = 0.9 * noise(vec2(around * 22.0, r * 1.3), 22.0);
    float fibres = noise(vec2(around * 150.0 + wander, r * 0.9), 150.0) * 0.6 +
                   noise(vec2(around * 320.0 + 2.0 * wander, r * 1.7), 320.0) * 0.4;
    float crypts = smoothstep(0.60, 0.86, noise(vec2(around * 34.0, r * 2.3 + 3.0), 34.0));
    vec3 inner = vec3(0.46, 0.36, 0.20), outer = vec3(0.30, 0.37, 0.34);
    vec3 colour = mix(inner, outer, smoothstep(0.10, 0.48, across));
    colour *= 0.52 + 0.80 * fibres;
    float collarette = exp(-pow((across - 0.27 - 0.05 * noise(vec2(around * 40.0, 0.0), 40.0)) / 0.045, 2.0));
    colour += vec3(0.13, 0.11, 0.07) * collarette * (0.5 + fibres);
    colour *= 1.0 - 0.42 * crypts * smoothstep(0.2, 0.4, across) * (1.0 - smoothstep(0.65, 0.9, across));
    float furrows = 0.5 + 0.5 * sin(r * 13.0 + 2.5 * noise(vec2(around * 9.0, r), 9.0));
    colour *= 1.0 - 0.10 * smoothstep(0.55, 0.75, across) * furrows;
    return colour * (1.0 - 0.55 * smoothstep(0.80, 1.0, across));
}

void main() {
    vec2 p = gl_TexCoord[0].xy - eye_centre;
    float r = length(p);
    float around = atan(p.y, p.x) / kTurn + 0.5;

    vec3 pupil = vec3(0.022, 0.016, 0.018) + vec3(0.05, 0.018, 0.010) * exp(-r * r / (pupil_mm * pupil_mm) * 1.6);
    float frill = 0.035 * (noise(vec2(around * 60.0, 0.0), 60.0) - 0.5);
    float in_pupil = 1.0 - smoothstep(pupil_mm + frill - 0.04, pupil_mm + frill + 0.03, r);
    vec3 colour = mix(iris_colour(around, r), pupil, in_pupil);
    float ruff = exp(-pow((r - pupil_mm - frill - 0.05) / 0.045, 2.0));
    colour = mix(colour, vec3(0.11, 0.07, 0.04), 0.75 * ruff * (1.0 - in_pupil));

    // Sclera: warm white, a little blue where it thins toward the limbus, mottled.
    float mottle = cloud(p * 1.4 + 11.0);
    vec3 sclera = mix(vec3(0.80, 0.76, 0.70), vec3(0.90, 0.865, 0.81), mottle);
    sclera = mix(sclera, vec3(0.80, 0.58, 0.52), 0.25 * smoothstep(0.52, 0.80, cloud(p * 0.7 + 40.0)));
    float edge = limbus_mm + 0.10 * (noise(vec2(around * 26.0, 0.0), 26.0) - 0.5);
    sclera = mix(vec3(0.55, 0.58, 0.60), sclera, smoothstep(edge - 0.1, edge + 0.55, r));
    colour = mix(colour, sclera, smoothstep(edge - 0.42, edge + 0.12, r));
    gl_FragColor = vec4(colour, 1.0);
}
