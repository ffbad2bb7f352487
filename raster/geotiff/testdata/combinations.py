#!/usr/bin/python3
"""Writes a GeoTIFF of every combination GDAL can write of value type, compression, predictor, blocks, byte order, offset
width and band order, and beside each what GDAL reads back from it, as raw little-endian values, band after band.
usage: combinations.py DIR [STEP]   with STEP n only every n-th is written
Prints a line each: file, type, columns, rows, bands."""
import sys
import numpy as np
from osgeo import gdal

gdal.UseExceptions()
gdal.PushErrorHandler('CPLQuietErrorHandler')
out, step = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 1
rng = np.random.default_rng(7)
COLS, ROWS = 53, 41
mem = gdal.GetDriverByName('MEM')
tif = gdal.GetDriverByName('GTiff')

TYPES = [  # name, GDAL type, numpy type, options
    ('uint8', gdal.GDT_Byte, np.uint8, []), ('int8', gdal.GDT_Byte, np.uint8, ['PIXELTYPE=SIGNEDBYTE']),
    ('uint16', gdal.GDT_UInt16, np.uint16, []), ('int16', gdal.GDT_Int16, np.int16, []),
    ('uint32', gdal.GDT_UInt32, np.uint32, []), ('int32', gdal.GDT_Int32, np.int32, []),
    ('uint64', gdal.GDT_UInt64, np.uint64, []), ('int64', gdal.GDT_Int64, np.int64, []),
    ('float16', gdal.GDT_Float32, np.float32, ['NBITS=16']),
    ('float32', gdal.GDT_Float32, np.float32, []), ('float64', gdal.GDT_Float64, np.float64, []),
] + [('bits%d' % n, gdal.GDT_Byte if n < 8 else gdal.GDT_UInt16 if n < 16 else gdal.GDT_UInt32,
      np.uint8 if n < 8 else np.uint16 if n < 16 else np.uint32, ['NBITS=%d' % n]) for n in (1, 2, 4, 5, 7, 9, 12, 15, 17, 24, 31)]


def ground(name, dtype, bands):
    """Smooth ground with steps and noise, over the whole range of the type."""
    y, x = np.mgrid[0:ROWS, 0:COLS]
    a = np.stack([np.sin(x / 7 + b) + np.cos(y / 5) + 0.2 * (x // 9) for b in range(bands)])
    a = (a - a.min()) / (a.max() - a.min())
    noise = rng.random(a.shape) < 0.2
    if np.issubdtype(dtype, np.floating):
        v = (a * 400 - 100).astype(dtype)
        v[noise] = (rng.random(int(noise.sum())) * 1e4 - 5e3).astype(dtype)
        v[0, 0, 0], v[-1, -1, -1] = 0, -0.5
        return v
    info = np.iinfo(dtype)
    lo, hi = int(info.min), int(info.max)
    if name.startswith('bits'):
        lo, hi = 0, 2 ** int(name[4:]) - 1
    if name == 'int8':
        lo, hi = 0, 255
    v = np.array([[[lo + int(float(c) * (hi - lo) * 0.999) for c in r] for r in b] for b in a], dtype=object)
    v[noise] = [int(n) for n in rng.integers(0, min(hi, 2 ** 62), int(noise.sum()))]
    v[0, 0, 0], v[-1, -1, -1] = lo, hi
    return v.astype(dtype)


n = 0
for name, gtype, dtype, opts in TYPES:
    plain = not (name.startswith('bits') or name == 'float16')
    for bands, inter in ((1, 'PIXEL'), (3, 'PIXEL'), (3, 'BAND')):
        v = ground(name, dtype, bands)
        src = mem.Create('', COLS, ROWS, bands, gtype)
        src.SetGeoTransform((500000, 10, 0, 4650000, 0, -10))
        for b in range(bands):
            src.GetRasterBand(b + 1).WriteArray(v[b])
        for comp in ('NONE', 'PACKBITS', 'LZW', 'DEFLATE', 'ZSTD'):
            preds = [1]
            if comp in ('LZW', 'DEFLATE', 'ZSTD'):
                preds += [2] if plain else []
                preds += [3] if name.startswith('float') else []
            for pred in preds:
                for blocks in (['TILED=YES', 'BLOCKXSIZE=32', 'BLOCKYSIZE=16'], ['BLOCKYSIZE=7'], ['BLOCKYSIZE=%d' % ROWS]):
                    for endian in ('LITTLE', 'BIG'):
                        for big in ('NO', 'YES'):
                            n += 1
                            if n % step:
                                continue
                            file = '%s-%d%s-%s-p%d-%s-%s-%s.tif' % (name, bands, inter[0], comp, pred, len(blocks) > 1 and 'tiles' or 'strip' + blocks[0][11:], endian, big == 'YES' and 'big' or 'classic')
                            o = opts + blocks + ['COMPRESS=' + comp, 'INTERLEAVE=' + inter, 'ENDIANNESS=' + endian, 'BIGTIFF=' + big]
                            if pred > 1:
                                o.append('PREDICTOR=%d' % pred)
                            try:
                                tif.CreateCopy(out + '/' + file, src, options=o).FlushCache()
                            except RuntimeError as e:
                                print('refused', file, str(e).replace('\n', ' '))
                                continue
                            back = gdal.Open(out + '/' + file).ReadAsArray()
                            if name == 'int8':
                                back = back.view(np.int8)
                            back.astype(back.dtype.newbyteorder('<')).tofile(out + '/' + file + '.raw')
                            print(file, back.dtype.name, COLS, ROWS, bands)
