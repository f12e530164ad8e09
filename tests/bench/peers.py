# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs VTK and scipy for bench-grid, by turns with the program's own code.

First line out: the peers there are. Then for each line in, "NAME IN OUT SIZE [CELL ORIGIN]", runs
it once on the raw file IN, writes the result raw to OUT ("-" for none) and answers with seconds by
the clock and of the processor, without reading and writing.
"""
import sys
import time

import numpy as np

try:
    from vtkmodules.util.numpy_support import numpy_to_vtk, numpy_to_vtkIdTypeArray, vtk_to_numpy
    from vtkmodules.vtkCommonCore import vtkPoints, vtkSMPTools, vtkVersion
    from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkImageData, vtkPolyData
    from vtkmodules.vtkFiltersCore import vtkFlyingEdges3D
    from vtkmodules.vtkImagingGeneral import vtkImageEuclideanDistance
    from vtkmodules.vtkImagingStencil import vtkImageStencilToImage, vtkPolyDataToImageStencil
    VTK = vtkVersion.GetVTKVersion()
except ImportError:
    VTK = None
try:
    import scipy
    from scipy.ndimage import distance_transform_edt
    SCIPY = scipy.__version__
except ImportError:
    SCIPY = None

loaded = {}  # the last input of each kind, ready for the peer


def watch(run):
    clock, used = time.perf_counter(), time.process_time()
    result = run()
    return time.perf_counter() - clock, time.process_time() - used, result


def make_image(values, n):
    image = vtkImageData()
    image.SetDimensions(n, n, n)
    image.GetPointData().SetScalars(numpy_to_vtk(values, deep=True))
    return image


def load(kind, path, make):
    if loaded.get(kind, (None,))[0] != path:
        loaded[kind] = path, make()
    return loaded[kind][1]


def edt_vtk(path, n):
    marks = load("edt-vtk", path, lambda: make_image(1 - np.fromfile(path, np.uint8), n))
    transform = vtkImageEuclideanDistance()
    transform.SetInputData(marks)
    transform.ConsiderAnisotropyOff()
    transform.SetMaximumDistance(1e9)
    transform.SetAlgorithmToSaito()

    def run():
        transform.Update()
        return vtk_to_numpy(transform.GetOutput().GetPointData().GetScalars())
    clock, used, squares = watch(run)
    return clock, used, np.sqrt(squares).astype(np.float32)


def edt_scipy(path, n):
    marks = load("edt-scipy", path, lambda: (np.fromfile(path, np.uint8) == 0).reshape(n, n, n))
    clock, used, distance = watch(lambda: distance_transform_edt(marks))
    return clock, used, distance.astype(np.float32)


def net_vtk(path, n):
    field = load("net-vtk", path, lambda: make_image(np.fromfile(path, np.float32), n))
    edges = vtkFlyingEdges3D()
    edges.SetInputData(field)
    edges.SetValue(0, 0.0)
    edges.ComputeNormalsOff()
    edges.ComputeScalarsOff()
    clock, used, _ = watch(edges.Update)
    polygons = vtk_to_numpy(edges.GetOutput().GetPolys().GetConnectivityArray())
    return clock, used, polygons.astype(np.uint32)


def make_mesh(path):
    """The file: corners of triangles, nine doubles each, not shared; VTK wants them shared."""
    corners = np.fromfile(path, np.float64).reshape(-1, 3)
    points, index = np.unique(corners, axis=0, return_inverse=True)
    mesh = vtkPolyData()
    vtk_points = vtkPoints()
    vtk_points.SetDataTypeToDouble()
    vtk_points.SetData(numpy_to_vtk(points, deep=True))
    mesh.SetPoints(vtk_points)
    triangles = index.reshape(-1, 3)
    cells = np.hstack([np.full((len(triangles), 1), 3), triangles]).astype(np.int64)
    array = vtkCellArray()
    array.SetCells(len(triangles), numpy_to_vtkIdTypeArray(cells.ravel(), deep=True))
    mesh.SetPolys(array)
    return mesh


def voxels_vtk(path, n, cell, origin):
    mesh = load("voxels-vtk", path, lambda: make_mesh(path))
    stencil = vtkPolyDataToImageStencil()
    stencil.SetInputData(mesh)
    stencil.SetOutputOrigin(origin, origin, origin)
    stencil.SetOutputSpacing(cell, cell, cell)
    stencil.SetOutputWholeExtent(0, n - 1, 0, n - 1, 0, n - 1)
    clock, used, _ = watch(stencil.Update)
    image = vtkImageStencilToImage()
    image.SetInputConnection(stencil.GetOutputPort())
    image.SetInsideValue(1)
    image.SetOutputScalarTypeToUnsignedChar()
    image.Update()
    return clock, used, vtk_to_numpy(image.GetOutput().GetPointData().GetScalars())


def answer(words):
    name, source, target, n = words[0], words[1], words[2], int(words[3])
    if (SCIPY if name == "edt-scipy" else VTK) is None:
        return "missing"
    if name == "voxels-vtk":
        result = voxels_vtk(source, n, float(words[4]), float(words[5]))
    else:
        result = {"edt-vtk": edt_vtk, "edt-scipy": edt_scipy, "net-vtk": net_vtk}[name](source, n)
    if target != "-":
        result[2].tofile(target)
    return "%.9f %.9f" % result[:2]


threads = vtkSMPTools.GetEstimatedNumberOfThreads() if VTK else 0
print("VTK %s (%d threads), scipy %s" % (VTK or "missing", threads, SCIPY or "missing"), flush=True)
for line in sys.stdin:
    print(answer(line.split()), flush=True)
