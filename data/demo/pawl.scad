// Pawl of the warp-beam ratchet: a hub with a bent arm and a tooth. Millimetres.
$fn = 72;

thick = 12;

difference() {
    linear_extrude(thick) union() {
        circle(d = 28);
        hull() {
            circle(d = 20);
            translate([38, 9]) circle(d = 14);
        }
        polygon([[30, 14], [58, 17], [61, 4], [52, 7], [40, 2]]);
    }
    translate([0, 0, -1]) cylinder(d = 10, h = thick + 2);
}
