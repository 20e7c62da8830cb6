"""What a template asks at each of its places, settled once while it is compiled: whether a call
wants the page's context, how a value is escaped, what a sentence without places says. A page of
the catalogue has some three hundred such places, and a site thousands of pages."""

from __future__ import annotations

import functools
from keyword import iskeyword
from typing import Any

from jinja2 import nodes
from jinja2.compiler import CodeGenerator, Frame, MacroRef
from jinja2.runtime import Macro, missing
from markupsafe import Markup, escape

from proofgen.say.safe import for_page

Finalize = CodeGenerator._FinalizeInfo


@functools.lru_cache(maxsize=4096)  # a page says its ways, its shop and its prices many times
def _text(value: str) -> Markup:
    return escape(for_page(value))


def printed(value: object) -> str:
    """A value as a page holds it. Markup is handed on, since it is what escaping would make."""
    if type(value) is str:
        return _text(value)
    return value if isinstance(value, Markup) else escape(for_page(value))


class Said(Macro):
    """A macro as it is called from a template, without its context. Jinja's own looks at each call
    for what ours do not have: a caller, a rest of arguments."""

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        rare = self.caller or self.catch_kwargs or self.catch_varargs or self.explicit_caller
        self._is_plain = self._default_autoescape and not rare

    def __call__(self, *args: Any, **kwargs: Any) -> str:
        if not self._is_plain or len(args) > self._argument_count:
            return super().__call__(*args, **kwargs)
        lacking = self.arguments[len(args) :]
        if kwargs.keys() - lacking:  # one that it does not take
            return super().__call__(*args, **kwargs)
        return Markup(self._func(*args, *[kwargs.get(name, missing) for name in lacking]))


class Settled(CodeGenerator):
    """Compiles for an environment that has `printed`, and the sentences of one language as `_`."""

    def _output_child_pre(self, node: nodes.Expr, frame: Frame, finalize: Finalize) -> None:
        if frame.eval_ctx.volatile or not frame.eval_ctx.autoescape:
            super()._output_child_pre(node, frame, finalize)
        else:  # closed by Jinja as it closes its own two
            self.write("(environment.printed(")

    def _output_child_to_const(self, node: nodes.Expr, frame: Frame, finalize: Finalize) -> str:
        match node:
            case nodes.Call(
                node=nodes.Name(name="_"),
                args=[nodes.Const(value=str(sentence))],
                kwargs=[],
                dyn_args=None,
                dyn_kwargs=None,
            ):
                return str(self.environment.globals["_"](sentence))  # type: ignore[operator]
        return super()._output_child_to_const(node, frame, finalize)

    def visit_Getattr(  # noqa: N802
        self, node: nodes.Getattr, frame: Frame
    ) -> None:
        """Nearly all that is asked for is an attribute; what is none is left to Jinja."""
        if self.environment.sandboxed:
            super().visit_Getattr(node, frame)
            return
        self.write("(got if (got := getattr((asked := ")
        self.visit(node.node, frame)
        self.write(f"), {node.attr!r}, missing)) is not missing")
        self.write(f" else environment.getattr(asked, {node.attr!r}))")

    def macro_def(self, macro_ref: MacroRef, frame: Frame) -> None:
        if not self.environment.sandboxed:  # which hands over the context
            self.write("environment.")
        super().macro_def(macro_ref, frame)

    def visit_Call(  # noqa: N802
        self, node: nodes.Call, frame: Frame, forward_caller: bool = False
    ) -> None:
        """None of the functions that templates have asks for the page's context, so they are called
        as they are; but for a sandbox's, and calls of rare kinds."""
        rare = node.dyn_args or node.dyn_kwargs or forward_caller
        if self.environment.sandboxed or rare or any(iskeyword(one.key) for one in node.kwargs):
            super().visit_Call(node, frame, forward_caller=forward_caller)
            return
        self.visit(node.node, frame)
        self.write("(")
        for given in (*node.args, *node.kwargs):
            self.visit(given, frame)
            self.write(", ")
        self.write(")")
