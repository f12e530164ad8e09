// SPDX-License-Identifier: GPL-3.0-or-later
// 3MF: units, transforms, components, several parts, and packages that are broken or mean harm.
#include <string.h>

#include "mesh-text.h"
#include "solid/check.h"
#include "solid/measure.h"
#include "solid/read.h"

#define ROOT "3D/3dmodel.model"

static SolidMesh *
read_array(const GByteArray *data, GError **error)
{
    return solid_read_bytes(data->data, data->len, "p.3mf", NULL, NULL, error);
}

static SolidMesh *
read_model(const char *attributes, const char *inside, GError **error)
{
    g_autofree char *xml = mesh_model_xml(attributes, inside);
    g_autoptr(GByteArray) data = mesh_package("[Content_Types].xml", "<Types/>",
                                              "Metadata/gr\u00f6\u00dfe.txt", "7", ROOT, xml,
                                              "_rels/.rels", mesh_relationships, NULL);
    return read_array(data, error);
}

static void
refuse_model(const char *attributes, const char *inside, BaseError code, const char *words)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) mesh = read_model(attributes, inside, &error);
    g_assert_null(mesh);
    check_error(error, code, words);
}

// A box of 3 x 5 x 7 of the file's unit as object 1, then whatever else.
static char *
make_inside(const char *rest)
{
    g_autoptr(SolidMesh) box = check_mesh_box(0.003, 0.005, 0.007);
    g_autofree char *object = mesh_object_xml(box, "1");
    return g_strdup_printf("<metadata name=\"Title\">a &amp; b<vertex x=\"1\"/></metadata>"
                           "<resources>%s%s",
                           object, rest);
}

static void
test_units(void)
{
    const struct {
        const char *attributes;
        double metres;
    } cases[] = {
        {"unit=\"micron\"", 1e-6},     {"unit=\"millimeter\"", 1e-3}, {"", 1e-3},
        {"unit=\"centimeter\"", 0.01}, {"unit=\"inch\"", 0.0254},     {"unit=\"foot\"", 0.3048},
        {"unit=\"meter\"", 1}};
    g_autofree char *inside = make_inside("</resources><build><item objectid=\"1\" "
                                          "transform=\"1 0 0 0 1 0 0 0 1 11 13 17\"/></build>");
    for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autoptr(GError) error = NULL;
        g_autoptr(SolidMesh) mesh = read_model(cases[i].attributes, inside, &error);
        g_assert_no_error(error);
        SolidMeasure m = solid_measure(mesh);
        check_close(m.volume, 105 * pow(cases[i].metres, 3), 1e-12, "3 x 5 x 7");
        // The shift of a transform is in the file's unit too.
        check_close(m.max.z, 24 * cases[i].metres, 1e-12, "7 + 17");
    }
    refuse_model("unit=\"ell\"", inside, BASE_ERROR_FORMAT,
                 "p.3mf: 3D/3dmodel.model, line 2: the unit is none of 3MF's six");
}

// Rows as the specification multiplies them: a quarter turn about z takes x to y.
static void
test_transforms(void)
{
    g_autofree char *inside = make_inside(
        "<object id=\"2\"><components>"
        "<component objectid=\"1\" transform=\"0 1 0 -1 0 0 0 0 1 0 0 0\"/>"
        "</components></object></resources>"
        "<build><item objectid=\"2\" transform=\"1 0 0 0 1 0 0 0 2 100 0 0\"/></build>");
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) mesh = read_model("", inside, &error);
    g_assert_no_error(error);
    SolidMeasure m = solid_measure(mesh);
    check_close(m.volume, 210e-9, 1e-12, "3 x 5 x 7 x 2");
    check_close(m.min.x, 0.095, 1e-12, "x' = 100 - y");
    check_close(m.max.x, 0.100, 1e-12, "x' = 100 - y");
    check_close(m.max.y, 0.003, 1e-12, "y' = x");
    check_close(m.max.z, 0.014, 1e-12, "z' = 2 z");
}

static void
test_mirrored(void)
{
    g_autofree char *inside = make_inside("</resources><build><item objectid=\"1\" "
                                          "transform=\"-1 0 0 0 1 0 0 0 1 0 0 0\"/></build>");
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) mesh = read_model("", inside, &error);
    g_assert_no_error(error);
    g_assert_true(solid_check(mesh).closed);
    check_close(solid_measure(mesh).volume, 105e-9, 1e-12, "outward after mirroring");
}

static void
test_several(void)
{
    g_autofree char *inside = make_inside(
        "<object id=\"s\" type=\"support\"><components><component objectid=\"1\"/></components>"
        "</object><object id=\"9\" type=\"other\"><mesh><vertices/><triangles/></mesh></object>"
        "</resources><build><item objectid=\"1\"/>"
        "<item objectid=\"1\" transform=\"1 0 0 0 1 0 0 0 1 50 0 0\"/><item objectid=\"9\"/>"
        "</build>");
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) mesh = read_model("", inside, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(mesh->n_triangles, ==, 24);
    g_assert_cmpuint(solid_check(mesh).shells, ==, 2);
    check_close(solid_measure(mesh).max.x, 0.053, 1e-12, "3 + 50");
}

// Objects in another part of the package, in another unit, named by the production extension.
static void
test_other_part(void)
{
    g_autofree char *box = make_inside("</resources><build/>");
    g_autofree char *other = mesh_model_xml("unit=\"inch\"", box);
    g_autofree char *root = mesh_model_xml(
        "unit=\"millimeter\" requiredextensions=\"p\" "
        "xmlns:p=\"http://schemas.microsoft.com/3dmanufacturing/production/2015/06\"",
        "<resources><object id=\"1\"><components>"
        "<component p:path=\"/3D/Objects/box.model\" objectid=\"1\"/></components></object>"
        "</resources><build><item objectid=\"1\"/></build>");
    g_autoptr(GByteArray) data = mesh_package("_rels/.rels", mesh_relationships, ROOT, root,
                                              "3D/Objects/box.model", other, NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) mesh = read_array(data, &error);
    g_assert_no_error(error);
    check_close(solid_measure(mesh).volume, 105 * pow(0.0254, 3), 1e-12, "3 x 5 x 7 in");
}

static void
test_bad_models(void)
{
    const struct {
        const char *rest, *words;
    } cases[] = {
        {"</resources><build/>", "p.3mf: the model builds nothing"},
        {"</resources>", "p.3mf: the model builds nothing"},
        {"</resources><build><item objectid=\"7\"/></build>",
         "3D/3dmodel.model#7: the object is named but not there"},
        {"</resources><build><item/></build>", "\"objectid\" is missing"},
        {"</resources><build><item objectid=\"1\" transform=\"1 0 0\"/></build>",
         "a transform is not twelve numbers"},
        {"</resources><build><item objectid=\"1\" transform=\"1 0 0 0 1 0 0 0 1 0 0 0 "
         "0\"/></build>",
         "a transform is not twelve numbers"},
        {"</resources><build><item objectid=\"1\" transform=\"1 0 0 0 1 0 0 0 x 0 0 0\"/></build>",
         "a transform is not twelve numbers"},
        {"</resources><build><item objectid=\"1\" transform=\"1 0 0 0 1 0 0 0 0 0 0 0\"/></build>",
         "a transform flattens the object"},
        {"<object id=\"1\"/></resources><build/>", "an object's \"id\" stands twice"},
        {"<object/></resources><build/>", "an object has no \"id\""},
        {"<object id=\"2\"><components><component objectid=\"2\"/></components></object>"
         "</resources><build><item objectid=\"2\"/></build>",
         "the components go round in a circle"},
        {"<object id=\"2\"><mesh><vertices><vertex x=\"0\" y=\"1\"/></vertices></mesh></object>",
         "\"z\" is missing or not a finite number"},
        {"<object id=\"2\"><mesh><vertices><vertex x=\"0\" y=\"1\" z=\"inf\"/></vertices></mesh>",
         "\"z\" is missing or not a finite number"},
        {"<object id=\"2\"><mesh><triangles><triangle v1=\"0\" v2=\"1\" v3=\"2\"/></triangles>",
         "a triangle names vertex \"0\", which is not there"},
        {"<object id=\"2\"><mesh><triangles><triangle v1=\"x\" v2=\"1\" v3=\"2\"/></triangles>",
         "a triangle names vertex \"x\", which is not there"},
        {"<object id=\"2\"><mesh></object>", "the XML is damaged"},
        {"</resources><build>&bomb;</build>", "the XML is damaged"},
        {"</resources><build><item objectid=\"2\"/></build>", "#2: the object is named"},
    };
    for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *inside = make_inside(cases[i].rest);
        refuse_model("", inside, BASE_ERROR_FORMAT, cases[i].words);
    }
    refuse_model("requiredextensions=\"b\" xmlns:b=\"urn:beams\"", "", BASE_ERROR_FORMAT,
                 "the model needs the extension \"b\", not read here");
    refuse_model("",
                 "<resources><object id=\"1\"><mesh><vertices/></mesh></object></resources>"
                 "<build><item objectid=\"1\"/></build>",
                 BASE_ERROR_FORMAT, "p.3mf: the file holds no triangles");
    refuse_model("",
                 "<resources><object id=\"1\"><mesh><vertices><vertex x=\"1e300\" y=\"0\" "
                 "z=\"0\"/></vertices></mesh></object></resources>",
                 BASE_ERROR_LIMIT, "line 2: a corner lies more than 1000 km");
}

// Each object holds the one before ten times: 12 * 10^12 triangles from two kilobytes.
static void
test_multiplied(void)
{
    g_autoptr(GString) rest = g_string_new(NULL);
    for (int i = 2; i < 14; i++) {
        g_string_append_printf(rest, "<object id=\"%d\"><components>", i);
        for (int k = 0; k < 10; k++)
            g_string_append_printf(rest, "<component objectid=\"%d\"/>", i - 1);
        g_string_append(rest, "</components></object>");
    }
    g_string_append(rest, "</resources><build><item objectid=\"13\"/></build>");
    g_autofree char *inside = make_inside(rest->str);
    refuse_model("", inside, BASE_ERROR_LIMIT, "more than 20 million triangles");
}

static void
test_nested(void)
{
    g_autoptr(GString) deep = g_string_new(NULL);
    for (int i = 0; i < 5000; i++)
        g_string_append(deep, "<a>");
    refuse_model("", deep->str, BASE_ERROR_LIMIT, "elements are nested too deeply");
    g_autoptr(GString) chain = g_string_new(NULL);
    for (int i = 2; i < 1000; i++)
        g_string_append_printf(chain,
                               "<object id=\"%d\"><components><component objectid=\"%d\"/>"
                               "</components></object>",
                               i, i - 1);
    g_string_append(chain, "</resources><build><item objectid=\"999\"/></build>");
    g_autofree char *inside = make_inside(chain->str);
    refuse_model("", inside, BASE_ERROR_FORMAT, "nested too deeply");
}

static void
refuse_package(GByteArray *data, BaseError code, const char *words)
{
    g_autoptr(GError) error = NULL;
    g_assert_null(read_array(data, &error));
    check_error(error, code, words);
    g_byte_array_unref(data);
}

static void
test_bad_packages(void)
{
    refuse_package(mesh_package("readme", "hello", NULL), BASE_ERROR_FORMAT,
                   "p.3mf: _rels/.rels: the zip package is not a 3MF");
    refuse_package(mesh_package("_rels/.rels", mesh_relationships, NULL), BASE_ERROR_FORMAT,
                   "p.3mf: 3D/3dmodel.model: the model the package names is missing");
    refuse_package(mesh_package("_rels/.rels", "<Relationships/>", NULL), BASE_ERROR_FORMAT,
                   "_rels/.rels: the package names no model");
    refuse_package(mesh_package("_rels/.rels", "<Relationships", NULL), BASE_ERROR_FORMAT,
                   "_rels/.rels: the relationships cannot be read");
    refuse_package(mesh_package("_rels/.rels", mesh_relationships, ROOT, "<html/>", NULL),
                   BASE_ERROR_FORMAT, "line 1: the part is not a 3MF model");
    refuse_package(mesh_package("_rels/.rels", mesh_relationships, ROOT, "", NULL),
                   BASE_ERROR_FORMAT, "3D/3dmodel.model, line 1: the XML is damaged");
    refuse_package(mesh_package("_rels/.rels", mesh_relationships, ROOT, "\xFF\xFE<", NULL),
                   BASE_ERROR_FORMAT, "the part is UTF-16");
    g_autofree char *model = mesh_model_xml("", "");
    refuse_package(mesh_package("_rels/.rels", mesh_relationships, ROOT, model, ROOT, model, NULL),
                   BASE_ERROR_FORMAT, "the model stands twice");
    GByteArray *stub = g_byte_array_new();
    g_byte_array_append(stub, (const guint8 *)"PK\003\004garbage", 11);
    refuse_package(stub, BASE_ERROR_FORMAT, "p.3mf: ");
}

// A megabyte that unpacks to 200 MB of blanks, inside a model that is well formed so far.
static void
test_bomb(void)
{
    gsize size = 200u << 20;
    g_autofree char *blanks = g_malloc(size + 1);
    memset(blanks, ' ', size);
    memcpy(blanks, "<model>", 7);
    blanks[size] = '\0';
    refuse_package(mesh_package("_rels/.rels", mesh_relationships, ROOT, blanks, NULL),
                   BASE_ERROR_LIMIT,
                   "3D/3dmodel.model: the package unpacks to far more than a model needs");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/solid/read-3mf/units", test_units);
    g_test_add_func("/solid/read-3mf/transforms", test_transforms);
    g_test_add_func("/solid/read-3mf/mirrored", test_mirrored);
    g_test_add_func("/solid/read-3mf/several", test_several);
    g_test_add_func("/solid/read-3mf/other-part", test_other_part);
    g_test_add_func("/solid/read-3mf/bad-models", test_bad_models);
    g_test_add_func("/solid/read-3mf/multiplied", test_multiplied);
    g_test_add_func("/solid/read-3mf/nested", test_nested);
    g_test_add_func("/solid/read-3mf/bad-packages", test_bad_packages);
    g_test_add_func("/solid/read-3mf/bomb", test_bomb);
    return g_test_run();
}
