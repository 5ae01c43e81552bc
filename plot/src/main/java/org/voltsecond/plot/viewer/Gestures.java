package org.voltsecond.plot.viewer;

import java.awt.Cursor;
import java.awt.event.MouseEvent;
import java.awt.event.MouseWheelEvent;
import java.awt.geom.Rectangle2D;
import java.util.List;
import java.util.Optional;
import javax.swing.SwingUtilities;
import javax.swing.event.MouseInputAdapter;
import org.jspecify.annotations.Nullable;
import org.voltsecond.plot.PanelArea;

/**
 * What the mouse does. Left: click to place cursor A, drag to zoom, drag a cursor to move it. Right, or left with shift:
 * click to place cursor B, drag to pan. Wheel: zoom about the pointer; with shift pan; with control zoom the values.
 */
final class Gestures extends MouseInputAdapter {
    /** A pointer this close to something, in pixels, means it. */
    private static final int NEAR = 5;

    private static final int CLICK = 4;
    private static final double WHEEL_STEP = 1.25;
    private static final double WHEEL_PAN = 0.1;

    private final ViewModel model;
    private final WaveformCanvas canvas;
    private @Nullable Drag drag;

    private enum Kind {
        CURSOR_A,
        CURSOR_B,
        SELECT,
        SELECT_BOX,
        PAN
    }

    /** A pressed button: where, for what, and what was at the pointer. */
    private record Drag(Kind kind, MouseEvent press, PanelArea area, double fromTime) {
        boolean moved(MouseEvent now) {
            return Math.abs(now.getX() - press.getX()) > CLICK || Math.abs(now.getY() - press.getY()) > CLICK;
        }
    }

    private boolean moving;

    Gestures(ViewModel model, WaveformCanvas canvas) {
        this.model = model;
        this.canvas = canvas;
        canvas.addMouseListener(this);
        canvas.addMouseMotionListener(this);
        canvas.addMouseWheelListener(this);
    }

    @Override
    public void mousePressed(MouseEvent event) {
        canvas.requestFocusInWindow();
        Optional<PanelArea> area = canvas.panelAt(event.getY());
        moving = false;
        drag = area.map(found ->
                        new Drag(kind(event, found), event, found, model.time().from()))
                .orElse(null);
    }

    private Kind kind(MouseEvent event, PanelArea area) {
        if (isSecond(event)) {
            return Kind.PAN;
        }
        Optional<Which> cursor = cursorAt(event.getX(), area);
        if (cursor.isPresent()) {
            return cursor.get() == Which.A ? Kind.CURSOR_A : Kind.CURSOR_B;
        }
        return event.isControlDown() ? Kind.SELECT_BOX : Kind.SELECT;
    }

    private static boolean isSecond(MouseEvent event) {
        return !SwingUtilities.isLeftMouseButton(event) || event.isShiftDown();
    }

    /** The cursor at a place; of two at one place the one that the keys move. */
    private Optional<Which> cursorAt(double x, PanelArea area) {
        return List.of(model.active(), model.active().other()).stream()
                .filter(which -> Math.abs(area.x(model.cursor(which)) - x) <= NEAR)
                .findFirst();
    }

    @Override
    public void mouseDragged(MouseEvent event) {
        Drag now = drag;
        if (now == null || !(moving || now.moved(event))) {
            return;
        }
        moving = true;
        switch (now.kind) {
            case CURSOR_A -> placeCursor(Which.A, event, now.area);
            case CURSOR_B -> placeCursor(Which.B, event, now.area);
            case PAN -> {
                double perPixel = (now.area.to() - now.area.from()) / now.area.width();
                double from = now.fromTime - (event.getX() - now.press.getX()) * perPixel;
                model.pan(from - model.time().from());
            }
            default -> canvas.setSelection(selection(now, event));
        }
    }

    private void placeCursor(Which which, MouseEvent event, PanelArea area) {
        double perPixel = (area.to() - area.from()) / area.width();
        model.placeNear(which, area.time(inside(event.getX(), area)), NEAR * perPixel);
    }

    private static double inside(double x, PanelArea area) {
        return Math.max(area.left(), Math.min(area.left() + area.width(), x));
    }

    /** A band over all panels, or a box in one of them. */
    private Rectangle2D selection(Drag from, MouseEvent event) {
        PanelArea area = from.area;
        double x1 = inside(from.press.getX(), area);
        double x2 = inside(event.getX(), area);
        List<PanelArea> all = canvas.areas();
        double top = all.get(0).top();
        double bottom = all.get(all.size() - 1).top() + all.get(all.size() - 1).height();
        if (from.kind == Kind.SELECT_BOX) {
            top = insideVertically(Math.min(from.press.getY(), event.getY()), area);
            bottom = insideVertically(Math.max(from.press.getY(), event.getY()), area);
        }
        return new Rectangle2D.Double(Math.min(x1, x2), top, Math.abs(x2 - x1), bottom - top);
    }

    private static double insideVertically(double y, PanelArea area) {
        return Math.max(area.top(), Math.min(area.top() + area.height(), y));
    }

    @Override
    public void mouseReleased(MouseEvent event) {
        Drag done = drag;
        drag = null;
        canvas.setSelection(null);
        if (done == null) {
            return;
        }
        if (!moving) {
            click(event, done.area);
        } else if (done.kind == Kind.SELECT || done.kind == Kind.SELECT_BOX) {
            select(selection(done, event), done);
        }
    }

    private void click(MouseEvent event, PanelArea area) {
        boolean inside = event.getX() >= area.left() && event.getX() <= area.left() + area.width();
        if (inside) {
            placeCursor(isSecond(event) ? Which.B : Which.A, event, area);
        }
    }

    private void select(Rectangle2D box, Drag done) {
        if (box.getWidth() <= CLICK) {
            return;
        }
        PanelArea area = done.area;
        model.select(area.time(box.getMinX()), area.time(box.getMaxX()));
        if (done.kind == Kind.SELECT_BOX && box.getHeight() > CLICK) {
            model.selectValues(area.panel(), new ValueSpan(area.value(box.getMaxY()), area.value(box.getMinY())));
        }
    }

    @Override
    public void mouseWheelMoved(MouseWheelEvent event) {
        double turns = event.getPreciseWheelRotation();
        canvas.panelAt(event.getY()).ifPresent(area -> {
            double factor = Math.pow(WHEEL_STEP, turns);
            if (event.isControlDown()) {
                ValueSpan span = new ValueSpan(area.low(), area.high());
                model.selectValues(area.panel(), span.zoomed(factor, area.value(event.getY())));
            } else if (event.isShiftDown()) {
                model.pan(turns * WHEEL_PAN * model.time().length());
            } else {
                model.zoom(factor, area.time(inside(event.getX(), area)));
            }
        });
    }

    @Override
    public void mouseMoved(MouseEvent event) {
        int shape = canvas.panelAt(event.getY())
                .filter(area -> area.contains(event.getX(), event.getY()))
                .map(area ->
                        cursorAt(event.getX(), area).isPresent() ? Cursor.E_RESIZE_CURSOR : Cursor.CROSSHAIR_CURSOR)
                .orElse(Cursor.DEFAULT_CURSOR);
        canvas.setCursor(Cursor.getPredefinedCursor(shape));
    }
}
