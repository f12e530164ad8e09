// Pulley hanger: bolted to the castle of the loom, carries a cord pulley on its boss. Millimetres.
$fn = 72;

strap = 8;
boss = [30, 22]; // diameter, height
bore = 10;

module outline() {
    hull() {
        circle(d = 34);
        translate([62, 0]) circle(d = 26);
    }
    hull() {
        translate([62, 0]) circle(d = 26);
        translate([86, 16]) circle(d = 20);
    }
}

difference() {
    union() {
        linear_extrude(strap) outline();
        cylinder(d = boss[0], h = boss[1]);
        translate([16, -3, 0]) cube([44, 6, 13]);
    }
    translate([0, 0, -1]) cylinder(d = bore, h = boss[1] + 2);
    for (p = [[62, 0], [86, 16]]) translate([p.x, p.y, -1]) cylinder(d = 7, h = strap + 2);
}
