"""A small convolution network in numpy alone: read from an ONNX file and run on one picture.

It knows the layers of the one file that `photo.faces` asks it to run, whose digest is checked
before: convolutions (whole, 1 × 1, channel by channel), transposed ones of 2 × 2, sums, batch
normalisation, rectifier and sigmoid. Formats: ONNX, onnx.proto (ModelProto, GraphProto, NodeProto,
AttributeProto, TensorProto) and Operators (Conv, ConvTranspose, BatchNormalization); wire format:
Protocol Buffers, Encoding.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Plane: TypeAlias = NDArray[np.float32]  # (channels, height, width), or weights
_Value: TypeAlias = int | memoryview
_AT_ONCE = 100_000  # numbers of a layer worked on at a time: they stay in the processor's cache


def _varint(data: memoryview, at: int) -> tuple[int, int]:
    value = shift = 0
    while True:
        value |= (data[at] & 127) << shift
        if data[at] < 128:
            return value, at + 1
        at, shift = at + 1, shift + 7


def _fields(data: memoryview) -> Iterator[tuple[int, _Value]]:
    """Number and value of each field of a message."""
    at = 0
    while at < len(data):
        key, at = _varint(data, at)
        kind = key & 7
        if kind == 0:
            number, at = _varint(data, at)
            yield key >> 3, number
            continue
        size, at = (8, at) if kind == 1 else (4, at) if kind == 5 else _varint(data, at)
        yield key >> 3, data[at : at + size]
        at += size


def _bytes(data: memoryview, number: int) -> list[memoryview]:
    return [v for n, v in _fields(data) if n == number and not isinstance(v, int)]


def _texts(data: memoryview, number: int) -> list[str]:
    return [bytes(value).decode() for value in _bytes(data, number)]


def _whole(data: memoryview, number: int) -> list[int]:
    """Whole numbers of a field, one by one or packed."""
    found: list[int] = []
    for value in (v for n, v in _fields(data) if n == number):
        if isinstance(value, int):
            found.append(value)
            continue
        at = 0
        while at < len(value):
            one, at = _varint(value, at)
            found.append(one)
    return found


def _tensor(data: memoryview) -> tuple[str, Plane]:
    """Name and numbers: raw_data, or else float_data."""
    raw = b"".join(bytes(v) for v in _bytes(data, 9) or _bytes(data, 4))
    shape = _whole(data, 1)
    numbers = np.frombuffer(raw, "<f4")
    return _texts(data, 8)[0], numbers.reshape(shape) if shape else numbers


@dataclass(frozen=True, slots=True)
class _Layer:
    kind: str
    inputs: tuple[str, ...]
    output: str
    stride: int = 1
    groups: int = 1
    epsilon: float = 1e-5


def _layer(data: memoryview) -> _Layer:
    said: dict[str, float] = {}
    for attribute in _bytes(data, 5):
        (name,) = _texts(attribute, 1)
        numbers = _whole(attribute, 3) + _whole(attribute, 8)  # i, ints
        for small in _bytes(attribute, 2):  # f
            numbers = numbers or list(struct.unpack("<f", small))
        said[name] = numbers[0] if numbers else 0
    return _Layer(
        _texts(data, 4)[0],
        tuple(_texts(data, 1)),
        _texts(data, 2)[0],
        int(said.get("strides", 1)),
        int(said.get("group", 1)),
        said.get("epsilon", 1e-5),
    )


class Network:
    """The layers of an ONNX file, in their order, and their weights."""

    def __init__(self, content: bytes) -> None:
        (graph,) = _bytes(memoryview(content), 7)
        self._layers = [_layer(node) for node in _bytes(graph, 1)]
        self._weights = dict(_tensor(one) for one in _bytes(graph, 5))
        (self._entrance,) = {_texts(i, 1)[0] for i in _bytes(graph, 11)} - self._weights.keys()

    def run(self, picture: Plane, wanted: Sequence[str]) -> list[Plane]:
        """The outputs of these names for a picture (3, height, width) in codes of 0 to 255."""
        planes: dict[str, Plane] = {self._entrance: picture}
        last = {name: at for at, one in enumerate(self._layers) for name in one.inputs}
        for at, one in enumerate(self._layers):
            planes[one.output] = _worked(one, planes, self._weights)
            for name in one.inputs:
                if last[name] == at and name not in wanted:
                    planes.pop(name, None)
        return [planes[name] for name in wanted]


def _worked(layer: _Layer, planes: Mapping[str, Plane], weights: Mapping[str, Plane]) -> Plane:
    x, given = planes[layer.inputs[0]], [weights[n] for n in layer.inputs[1:] if n in weights]
    match layer.kind:
        case "Conv":
            made = _convolved(x, given[0], layer)
            if len(given) > 1:
                made += given[1][:, None, None]
            return made
        case "ConvTranspose":
            made = _doubled(x, given[0])
            return made + given[1][:, None, None] if len(given) > 1 else made
        case "BatchNormalization":
            scale, shift, mean, variance = given
            factor = scale / np.sqrt(variance + np.float32(layer.epsilon))
            return x * factor[:, None, None] + (shift - mean * factor)[:, None, None]
        case "Relu":
            return np.maximum(x, np.float32(0))
        case "Sigmoid":
            return (1 / (1 + np.exp(-x))).astype(np.float32)
        case "Add":
            return x + planes[layer.inputs[1]]
    raise ValueError(f"no layer of the kind {layer.kind} is known")


def _convolved(x: Plane, weights: Plane, layer: _Layer) -> Plane:
    """A convolution of 1 × 1, or of 3 × 3 with a border of 1."""
    channels, high, wide = x.shape
    if weights.shape[2] == 1:
        return (weights[:, :, 0, 0] @ x.reshape(channels, -1)).reshape(-1, high, wide)
    padded = np.pad(x, ((0, 0), (1, 1), (1, 1)))
    step = layer.stride
    size = ((high - 1) // step + 1, (wide - 1) // step + 1)
    if layer.groups > 1:
        return _by_channel(padded, weights.reshape(channels, 9), step, size)
    columns = np.stack(list(_shifted(padded, step, size)), axis=1).reshape(channels * 9, -1)
    return (weights.reshape(len(weights), -1) @ columns).reshape(-1, *size)


def _shifted(padded: Plane, step: int, size: tuple[int, int]) -> Iterator[Plane]:
    """The nine pictures whose pixels stand around each pixel, row by row."""
    # Every second pixel is laid together once: numpy reads neighbours fastest.
    quick = {
        (i, j): np.ascontiguousarray(padded[:, i::step, j::step])
        for i in range(step)
        for j in range(step)
    }
    for i in range(3):
        for j in range(3):
            top, left = i // step, j // step
            yield quick[i % step, j % step][:, top : top + size[0], left : left + size[1]]


def _by_channel(padded: Plane, weights: Plane, step: int, size: tuple[int, int]) -> Plane:
    """Each channel with a kernel of its own, some channels at a time."""
    made = np.zeros((len(padded), *size), np.float32)
    some = max(1, _AT_ONCE // (size[0] * size[1]))
    for first in range(0, len(padded), some):
        part = slice(first, first + some)
        _add_weighted(made[part], _shifted(padded[part], step, size), weights[part].T)
    return made


def _add_weighted(made: Plane, planes: Iterable[Plane], weights: Plane) -> None:
    product = np.empty_like(made)
    for plane, factors in zip(planes, weights, strict=True):
        np.multiply(plane, factors[:, None, None], out=product)
        made += product


def _doubled(x: Plane, weights: Plane) -> Plane:
    """A transposed convolution of 2 × 2 at stride 2: every pixel becomes four."""
    channels, high, wide = x.shape
    made = np.empty((weights.shape[1], 2 * high, 2 * wide), np.float32)
    for i in (0, 1):
        for j in (0, 1):
            corner = weights[:, :, i, j].T @ x.reshape(channels, -1)
            made[:, i::2, j::2] = corner.reshape(-1, high, wide)
    return made
