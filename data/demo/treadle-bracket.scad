// Treadle bracket of a floor loom: a foot screwed to the cross beam and two ears that carry the
// treadle on a pin. Millimetres.
$fn = 72;

foot = [92, 54, 10];
ear_gap = 20;
ear = 11;
pin = 12;
pin_height = 34;

module foot_plate() {
    difference() {
        linear_extrude(foot.z) offset(8) square([foot.x - 16, foot.y - 16], center = true);
        for (x = [-34, 34]) translate([x, 0, -1]) cylinder(d = 9, h = foot.z + 2);
    }
}

module ear_plate() {
    rotate([90, 0, 0]) linear_extrude(ear, center = true) hull() {
        translate([0, pin_height]) circle(d = 26);
        translate([-22, 6]) square([44, 2]);
    }
}

difference() {
    union() {
        foot_plate();
        for (s = [-1, 1]) translate([0, s * (ear_gap + ear) / 2, 0]) ear_plate();
    }
    translate([0, 0, pin_height]) rotate([90, 0, 0]) cylinder(d = pin, h = 100, center = true);
}
