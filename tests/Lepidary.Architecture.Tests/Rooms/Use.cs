using Mono.Cecil;

namespace Lepidary.Architecture.Rooms;

/// <summary>One thing that compiled code of a type names: another type, or a member of it.</summary>
/// <param name="By">Full name of the outermost type that names it (lambdas and state machines count as their owner).</param>
/// <param name="Assembly">Simple name of the assembly that the reference points to.</param>
/// <param name="Type">Full name of the outermost type named.</param>
/// <param name="Member">The member named, as <c>Name(ParameterType,…)</c>; empty where only the type is named.</param>
internal sealed record Use(string By, string Assembly, string Type, string Member)
{
    /// <summary>
    /// Everything that a compiled assembly names outside itself. Read from the compiled code, since that is what runs: a
    /// comment cannot raise a false alarm, and an alias or a <c>using static</c> cannot hide a use.
    /// </summary>
    public static IReadOnlyCollection<Use> Of(AssemblyDefinition assembly)
    {
        var uses = new HashSet<Use>();
        foreach (var type in assembly.Modules.SelectMany(module => module.GetTypes()))
        {
            new Collector(uses, Outermost(type).FullName, assembly.Name.Name).Read(type);
        }

        return uses;
    }

    private static TypeReference Outermost(TypeReference type)
    {
        while (type.DeclaringType is { } outer)
        {
            type = outer;
        }

        return type;
    }

    private sealed class Collector(HashSet<Use> uses, string by, string home)
    {
        public void Read(TypeDefinition type)
        {
            Name(type.BaseType);
            Names(type.Interfaces.Select(i => i.InterfaceType));
            Marks(type);
            Limits(type);
            foreach (var field in type.Fields)
            {
                Name(field.FieldType);
                Marks(field);
            }

            foreach (var property in type.Properties)
            {
                Marks(property);
            }

            foreach (var method in type.Methods)
            {
                Read(method);
            }
        }

        private void Read(MethodDefinition method)
        {
            Name(method.ReturnType);
            Names(method.Parameters.Select(p => p.ParameterType));
            Marks(method);
            Limits(method);
            if (!method.HasBody)
            {
                return;
            }

            Names(method.Body.Variables.Select(v => v.VariableType));
            Names(method.Body.ExceptionHandlers.Select(h => h.CatchType));
            foreach (var instruction in method.Body.Instructions)
            {
                switch (instruction.Operand)
                {
                    case TypeReference type:
                        Name(type);
                        break;
                    case MethodReference called:
                        var parameters = string.Join(',', called.Parameters.Select(p => p.ParameterType.Name));
                        Member(called.DeclaringType, $"{called.Name}({parameters})");
                        Names([called.ReturnType, .. called.Parameters.Select(p => p.ParameterType)]);
                        Names((called as GenericInstanceMethod)?.GenericArguments ?? []);
                        break;
                    case FieldReference field:
                        Member(field.DeclaringType, field.Name);
                        Name(field.FieldType);
                        break;
                    default:
                        break;
                }
            }
        }

        private void Marks(ICustomAttributeProvider marked)
        {
            foreach (var mark in marked.CustomAttributes)
            {
                Name(mark.AttributeType);
                Names(mark.ConstructorArguments.Select(argument => argument.Value as TypeReference));
            }
        }

        private void Limits(IGenericParameterProvider generic) =>
            Names(generic.GenericParameters.SelectMany(p => p.Constraints).Select(c => c.ConstraintType));

        private void Names(IEnumerable<TypeReference?> types)
        {
            foreach (var type in types)
            {
                Name(type);
            }
        }

        private void Name(TypeReference? type) => Member(type, "");

        private void Member(TypeReference? type, string member)
        {
            switch (type)
            {
                case null or GenericParameter:
                    break;
                case GenericInstanceType generic:
                    Member(generic.ElementType, member);
                    Names(generic.GenericArguments);
                    break;
                case TypeSpecification wrapped:
                    Member(wrapped.ElementType, member);
                    break;
                default:
                    var outer = Outermost(type);
                    if (outer.Scope is AssemblyNameReference elsewhere && elsewhere.Name != home)
                    {
                        uses.Add(new Use(by, elsewhere.Name, outer.FullName, member));
                    }

                    break;
            }
        }
    }
}
