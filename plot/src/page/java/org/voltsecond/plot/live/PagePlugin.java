package org.voltsecond.plot.live;

import java.lang.runtime.ObjectMethods;
import org.hipparchus.exception.LocalizedCoreFormats;
import org.teavm.model.BasicBlock;
import org.teavm.model.ClassHolder;
import org.teavm.model.ClassHolderTransformer;
import org.teavm.model.ClassHolderTransformerContext;
import org.teavm.model.Instruction;
import org.teavm.model.InvokeDynamicInstruction;
import org.teavm.model.MethodDescriptor;
import org.teavm.model.MethodHolder;
import org.teavm.model.emit.ProgramEmitter;
import org.teavm.model.instructions.StringConstantInstruction;
import org.teavm.vm.spi.TeaVMHost;
import org.teavm.vm.spi.TeaVMPlugin;

/** Leaves out of the script what no page needs, and no class could stand in place of. */
public final class PagePlugin implements TeaVMPlugin, ClassHolderTransformer {
    private static final MethodDescriptor TEXT = new MethodDescriptor("toString", String.class);

    @Override
    public void install(TeaVMHost host) {
        host.add(this);
    }

    @Override
    public void transformClass(ClassHolder type, ClassHolderTransformerContext context) {
        if (Record.class.getName().equals(type.getParent())) {
            dropText(type);
        } else if (type.getName().equals(Character.class.getName())) {
            ask(type.getMethod(named("getType")), "type", context);
            ask(type.getMethod(named("toLowerCase")), "lower", context);
        } else if (type.getName().equals(LocalizedCoreFormats.class.getName())) {
            shorten(type.getMethod(new MethodDescriptor("<clinit>", void.class)));
        }
    }

    private static MethodDescriptor named(String name) {
        return new MethodDescriptor(name, int.class, int.class);
    }

    /** What the Java compiler makes of each record as its text: messages of this library hold none of it. */
    private static void dropText(ClassHolder type) {
        MethodHolder text = type.getMethod(TEXT);
        if (text != null && isMade(text)) {
            type.removeMethod(text);
        }
    }

    /** Lets the browser tell what a character is. */
    private static void ask(MethodHolder method, String name, ClassHolderTransformerContext context) {
        ProgramEmitter program = ProgramEmitter.create(method, context.getHierarchy());
        program.invoke(PageCharacters.class, name, int.class, program.var(1, int.class))
                .returnValue();
    }

    /** Messages of Hipparchus keep their names: a page meets none but by a fault of this library. */
    private static void shorten(MethodHolder messages) {
        for (BasicBlock block : messages.getProgram().getBasicBlocks()) {
            for (Instruction instruction : block) {
                if (instruction instanceof StringConstantInstruction text
                        && text.getConstant().indexOf(' ') > 0) {
                    text.setConstant("");
                }
            }
        }
    }

    private static boolean isMade(MethodHolder method) {
        for (BasicBlock block : method.getProgram().getBasicBlocks()) {
            for (Instruction instruction : block) {
                if (instruction instanceof InvokeDynamicInstruction made
                        && made.getBootstrapMethod().getClassName().equals(ObjectMethods.class.getName())) {
                    return true;
                }
            }
        }
        return false;
    }
}
