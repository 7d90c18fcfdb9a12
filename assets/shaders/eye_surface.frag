#version 120
// The cornea over the eye: rim and donor with their haze, the relief of the surface as slopes tell it, its wet
// shine, and the stain of the leak check. Place: mm in the field's frame; light stands still in the view.
uniform sampler2D ground;     // eye_ground.frag's picture
uniform float ground_reach;   // mm from its centre to its edge
uniform sampler2D slopes;     // r, g: slope beyond the sphere's along x, y; 0.5 = none
uniform float slopes_reach;   // mm
uniform float slopes_range;   // slope at 1.0
uniform float relief;         // how much the eye exaggerates it
uniform vec2 eye_centre;      // mm
uniform float limbus_mm;
uniform float radius_mm;      // of the cornea's front
uniform vec2 donor_centre;    // mm
uniform vec3 donor_edge;      // mean radius, half the ovality (mm), double of its axis (rad)
uniform vec4 lift;            // direction (cos, sin) where forceps lift the lip, eversion 0 … 1, unused
uniform float view_sign;      // +1 examiner's, -1 surgeon's
uniform float stain;          // 0 … 1
uniform float fill;           // of the chamber, 0 flat … 1

vec3 shine_at(vec3 normal, vec2 lamp, float size) {
    // Where an eye straight above sees the lamp mirrored: at slopes equal to the lamp's half direction.
    vec2 off = (normal.xy / normal.z - lamp) / size;
    float pane = 1.0 - smoothstep(0.75, 1.15, length(vec2(off.x * 1.9, off.y)));
    float halo = exp(-dot(off, off) * 0.42);
    return vec3(1.0, 0.985, 0.95) * (0.78 * pane + 0.16 * halo);
}

float grain(vec2 p) { return fract(sin(dot(floor(p), vec2(12.9898, 78.233))) * 43758.5453); }

void main() {
    vec2 p = gl_TexCoord[0].xy;
    vec2 e = p - eye_centre;
    float r = length(e);
    vec2 d = p - donor_centre;
    float rd = max(length(d), 1e-4);
    float cos2 = (d.x * d.x - d.y * d.y) / (rd * rd), sin2 = 2.0 * d.x * d.y / (rd * rd);
    float edge = donor_edge.x + donor_edge.y * (cos2 * cos(donor_edge.z) + sin2 * sin(donor_edge.z));
    float beyond = rd - edge;                                   // mm outside the donor
    float in_donor = 1.0 - smoothstep(-0.02, 0.02, beyond);
    float in_cornea = 1.0 - smoothstep(limbus_mm - 0.20, limbus_mm + 0.10, r);

    vec2 dev = vec2(0.0);
    if (r < limbus_mm + 0.3)
        dev = (texture2D(slopes, p / (2.0 * slopes_reach) + 0.5).rg * 2.0 - 1.0) * slopes_range * in_cornea;
    // A lip that forceps lift slopes up toward its edge.
    float near_lift = pow(max(dot(d / rd, lift.xy), 0.0), 24.0) * smoothstep(-1.9, -0.1, beyond) * in_donor;
    dev += d / rd * 0.16 * lift.z * near_lift;

    float curve = mix(11.5, radius_mm, in_cornea);
    float height = sqrt(max(curve * curve - r * r, 1.0));
    vec2 seen = dev * relief;
    vec3 normal = normalize(vec3(e / height - seen, 1.0));
    normal.xy *= view_sign;                                     // now in the view: x right, y up

    vec2 through = p - dev * 0.9 - e * 0.015 * in_cornea;       // bent by the cornea
    vec3 colour = texture2D(ground, through / (2.0 * ground_reach) + 0.5).rgb;
    colour *= mix(1.0, 0.72 + 0.28 * fill, in_cornea);          // a flat chamber looks dull

    // Haze: the rim is thick, a little swollen and warm, the donor thinner, cool and pale.
    float toward_limbus = smoothstep(limbus_mm - 1.5, limbus_mm, r);
    vec3 rim = mix(colour, vec3(0.63, 0.60, 0.53), 0.23 + 0.30 * toward_limbus);
    vec3 donor = mix(colour, vec3(0.60, 0.74, 0.80), 0.13 + 0.10 * smoothstep(-1.3, 0.0, beyond));
    vec3 cornea = mix(rim, donor, in_donor);
    cornea += vec3(0.20, 0.22, 0.23) * exp(-pow(beyond / 0.10, 2.0));  // cut walls scatter light
    cornea += vec3(0.30, 0.34, 0.36) * near_lift * lift.z;
    colour = mix(colour, cornea, in_cornea);

    // Light and shade of the relief, then the whole shape's.
    vec2 lamp = normalize(vec2(-0.55, 0.83));
    float slant = dot(-seen * view_sign, lamp);
    colour *= 1.0 - 0.55 * clamp(-slant, 0.0, 1.0);
    colour += vec3(0.62, 0.68, 0.70) * clamp(slant, 0.0, 1.0) * (0.22 + 0.5 * in_cornea);
    colour *= 0.90 + 0.22 * dot(normal.xy, lamp);

    if (stain > 0.0) {
        // Dye lies thin on the cornea, in slow swirls, and deep along the wound and in the tears at the limbus.
        float wound = exp(-pow(beyond / 0.30, 2.0)), meniscus = exp(-pow((r - limbus_mm) / 0.36, 2.0));
        float swirl = sin(dot(p, vec2(1.9, 1.1)) + 1.6 * sin(p.y * 1.3 - p.x * 0.4)) * sin(p.x * 0.9 - p.y * 1.7 + 2.0);
        float film = stain * (0.30 + 0.09 * swirl + 0.40 * wound + 0.34 * meniscus) * (0.45 + 0.55 * in_cornea);
        vec3 blue = colour * vec3(0.34, 0.46, 0.78);
        colour = mix(blue, vec3(0.42, 0.83, 0.27), min(film, 0.85));
    }
    // The tear film rounds off what the relief exaggerates.
    vec3 film = normalize(vec3((e / height - 0.25 * seen) * view_sign, 1.0));
    vec3 wet = shine_at(film, vec2(-0.30, 0.40), 0.060) + 0.5 * shine_at(film, vec2(0.42, -0.27), 0.030);
    colour += wet * (in_cornea * 0.95 + 0.05);
    colour += (grain(gl_FragCoord.xy) - 0.5) / 160.0;           // hides the steps of eight bits
    colour *= 1.0 - 0.78 * smoothstep(6.0, 9.2, length(p));
    gl_FragColor = vec4(colour, 1.0);
}
